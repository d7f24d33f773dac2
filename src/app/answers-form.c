/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A field to paste into, a file to choose, and below it the list of what everybody said. Read and
 * taken in on the catalogue thread; here is only what is shown. */
#include "app/answers-form.h"

#include <string.h>

#include "app/text.h"
#include "app/widgets.h"
#include "core/handout/answer-text.h"

#define REPORT_LINES 12

enum
{
  COL_ITEM,
  COL_WHO,
  COL_SAYS,
  COL_WORDS,
  COL_WHEN,
  COL_MARK,
  COL_ICON,
  N_COLS
};

static const struct
{
  const char *title;
  int column;
  int chars; /* at least, then three dots; 0: as wide as it must be */
} columns[] = {
  { N_ ("Item"), COL_ITEM, 14 },      { N_ ("Who"), COL_WHO, 10 },  { N_ ("Says"), COL_SAYS, 6 },
  { N_ ("In words"), COL_WORDS, 14 }, { N_ ("When"), COL_WHEN, 0 },
};

typedef struct
{
  SwStore *store;
  GtkWidget *dialog, *text, *by, *take, *problem, *report, *list, *nobody, *scrolled, *whole;
  GtkListStore *rows;
  gboolean sent;
} Form;

/* ---- who said what ---- */

static gpointer
read_list (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) all = sw_answer_list (catalogue, 0, error);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  for (guint i = 0; all != NULL && i < all->len; i++)
    {
      const SwAnswerSaid *said = g_ptr_array_index (all, i);
      SwDay day = sw_day_of_instant (said->at, sw_catalogue_zone (catalogue));
      char **row = g_new0 (char *, N_COLS + 1);

      row[COL_ITEM] = g_strdup_printf ("%" G_GINT64_FORMAT "  %s", said->item, said->item_name);
      row[COL_WHO] = g_strdup (said->person);
      row[COL_SAYS] = g_strdup (said->question != 0 ? said->question_text
                                                    : _ (sw_answer_says_shown (said->says)));
      row[COL_WORDS] = g_strdup (said->text);
      row[COL_WHEN] = sw_day_written (day);
      row[COL_MARK] = g_strdup (said->clash    ? _ ("clash")
                                : said->latest ? ""
                                               : _ ("changed later"));
      row[COL_ICON] = g_strdup (said->clash ? "sw-doubtful-symbolic" : "");
      g_ptr_array_add (rows, row);
    }
  return all != NULL ? g_steal_pointer (&rows) : NULL;
}

static void
show_rows (Form *form, const GPtrArray *rows)
{
  gtk_list_store_clear (form->rows);
  for (guint i = 0; i < rows->len; i++)
    {
      char **row = g_ptr_array_index (rows, i);
      gtk_list_store_insert_with_values (form->rows, NULL, -1, COL_ITEM, row[COL_ITEM], COL_WHO,
                                         row[COL_WHO], COL_SAYS, row[COL_SAYS], COL_WORDS,
                                         row[COL_WORDS], COL_WHEN, row[COL_WHEN], COL_MARK,
                                         row[COL_MARK], COL_ICON, row[COL_ICON], -1);
    }
  gtk_widget_set_visible (form->nobody, rows->len == 0);
  gtk_widget_set_visible (form->scrolled, rows->len > 0);
}

static void
on_listed (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (GtkWidget) dialog = data;
  Form *form = g_object_get_data (G_OBJECT (dialog), "sw-form");
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) rows = sw_store_finish (form->store, result, &error);

  if (gtk_widget_in_destruction (dialog) || form->dialog == NULL)
    return;
  if (rows != NULL)
    show_rows (form, rows);
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    sw_store_tell (form->store, error->message, TRUE);
}

static void
reload (Form *form)
{
  sw_store_read (form->store, SW_RANK_KEY, read_list, NULL, NULL, (GDestroyNotify)g_ptr_array_unref,
                 NULL, on_listed, g_object_ref (form->dialog));
}

/* ---- taking in ---- */

/* Shared with the catalogue thread: what it took is shown once it is done. */
typedef struct
{
  char *text, *path, *by;
  GPtrArray *sentences; /* char * */
} Take;

static void
take_clear (gpointer data)
{
  Take *take = data;

  g_free (take->text);
  g_free (take->path);
  g_free (take->by);
  g_ptr_array_unref (take->sentences);
}

static void
take_unref (gpointer take)
{
  g_atomic_rc_box_release_full (take, take_clear);
}

static gboolean
run_take (SwCatalogue *catalogue, gpointer data, GError **error)
{
  Take *take = data;
  const SwZone *zone = sw_catalogue_zone (catalogue);
  g_autoptr (GBytes) bytes
      = take->text != NULL ? g_bytes_new (take->text, strlen (take->text)) : NULL;
  g_autoptr (SwAnswers) answers = bytes != NULL ? sw_answer_text_parse (bytes, zone, error)
                                                : sw_answer_text_read (take->path, zone, error);
  g_autoptr (SwAnswersReport) report
      = answers != NULL ? sw_answers_take (catalogue, answers, take->by, error) : NULL;

  if (report == NULL)
    return FALSE;
  g_ptr_array_add (take->sentences, g_strdup_printf ("%s.", report->sentence));
  for (guint i = 0; i < report->taken->len; i++)
    {
      const SwAnswerTaken *taken = g_ptr_array_index (report->taken, i);
      /* what simply stands is in the list below */
      if (taken->outcome != SW_ANSWER_IS_TAKEN && taken->outcome != SW_ANSWER_IS_TOLD)
        g_ptr_array_add (take->sentences, g_strdup (taken->sentence));
    }
  return TRUE;
}

static void
say (GtkWidget *label, const char *text)
{
  gtk_label_set_text (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL);
}

static void
show_report (Form *form, const Take *take)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < take->sentences->len && i < REPORT_LINES; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", (char *)take->sentences->pdata[i]);
  if (take->sentences->len > REPORT_LINES)
    g_string_append_printf (text, _ ("\nand %u more"), take->sentences->len - REPORT_LINES);
  say (form->report, text->str);
}

static void
on_taken (gpointer owner, const char *problem)
{
  Form *form = g_object_get_data (owner, "sw-form");
  Take *take = g_object_get_data (owner, "sw-take");

  form->sent = FALSE;
  say (form->problem, problem);
  say (form->report, NULL);
  if (problem != NULL)
    {
      gtk_widget_grab_focus (form->text);
      return;
    }
  show_report (form, take);
  if (take->text != NULL)
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (form->text)), "", -1);
  reload (form);
}

/* Takes text and path. */
static void
send_take (Form *form, char *text, char *path)
{
  Take *take;

  if (form->sent)
    {
      g_free (text);
      g_free (path);
      return;
    }
  take = g_atomic_rc_box_new0 (Take);
  take->text = text;
  take->path = path;
  take->by = g_strdup (gtk_entry_get_text (GTK_ENTRY (form->by)));
  if (*g_strstrip (take->by) == '\0')
    g_clear_pointer (&take->by, g_free);
  take->sentences = g_ptr_array_new_with_free_func (g_free);
  form->sent = TRUE;
  g_object_set_data_full (G_OBJECT (form->dialog), "sw-take", g_atomic_rc_box_acquire (take),
                          take_unref);
  sw_store_try (form->store, run_take, take, take_unref, G_OBJECT (form->dialog), on_taken);
}

static void
on_take (Form *form)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (form->text));
  GtkTextIter start, end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  send_take (form, gtk_text_buffer_get_text (buffer, &start, &end, FALSE), NULL);
}

static void
on_file (GtkNativeDialog *chooser, int response, GtkWidget *dialog)
{
  Form *form = g_object_get_data (G_OBJECT (dialog), "sw-form");
  char *path = response == GTK_RESPONSE_ACCEPT
                   ? gtk_file_chooser_get_filename (GTK_FILE_CHOOSER (chooser))
                   : NULL;

  sw_native_dialog_done (chooser);
  if (path != NULL && form->dialog != NULL)
    send_take (form, NULL, path);
  else
    g_free (path);
  g_object_unref (dialog);
}

static void
on_choose (Form *form)
{
  GtkFileChooserNative *chooser
      = gtk_file_chooser_native_new (_ ("Answers of the family"), GTK_WINDOW (form->dialog),
                                     GTK_FILE_CHOOSER_ACTION_OPEN, _ ("_Take in"), _ ("_Cancel"));

  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (chooser), TRUE);
  g_signal_connect (chooser, "response", G_CALLBACK (on_file), g_object_ref (form->dialog));
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

/* ---- the window ---- */

static void
form_free (gpointer data)
{
  Form *form = data;

  g_clear_object (&form->rows);
  g_object_unref (form->store);
  g_free (form);
}

static void
on_destroy (GtkWidget *dialog, Form *form)
{
  g_signal_handlers_disconnect_by_data (form->store, form);
  form->dialog = NULL;
}

static void
add_columns (Form *form)
{
  GtkTreeViewColumn *last = gtk_tree_view_column_new ();
  GtkCellRenderer *icon = gtk_cell_renderer_pixbuf_new (), *word = gtk_cell_renderer_text_new ();

  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      GtkCellRenderer *cell = gtk_cell_renderer_text_new ();
      GtkTreeViewColumn *column = gtk_tree_view_column_new_with_attributes (
          _ (columns[i].title), cell, "text", columns[i].column, NULL);

      if (columns[i].chars > 0)
        g_object_set (cell, "ellipsize", PANGO_ELLIPSIZE_END, "width-chars", columns[i].chars,
                      NULL);
      gtk_tree_view_column_set_expand (column, columns[i].chars > 0);
      gtk_tree_view_column_set_resizable (column, TRUE);
      gtk_tree_view_append_column (GTK_TREE_VIEW (form->list), column);
    }
  gtk_tree_view_column_set_title (last, _ ("Mark"));
  gtk_tree_view_column_pack_start (last, icon, FALSE);
  gtk_tree_view_column_pack_start (last, word, TRUE);
  gtk_tree_view_column_add_attribute (last, icon, "icon-name", COL_ICON);
  gtk_tree_view_column_add_attribute (last, word, "text", COL_MARK);
  gtk_tree_view_append_column (GTK_TREE_VIEW (form->list), last);
}

/* The row chosen, with nothing of it cut. */
static void
show_whole (GtkTreeSelection *selection, Form *form)
{
  GtkTreeModel *rows;
  GtkTreeIter row;
  g_autofree char *item = NULL, *who = NULL, *says = NULL, *words = NULL, *text = NULL;
  const gboolean any = gtk_tree_selection_get_selected (selection, &rows, &row);

  if (any)
    {
      gtk_tree_model_get (rows, &row, COL_ITEM, &item, COL_WHO, &who, COL_SAYS, &says, COL_WORDS,
                          &words, -1);
      text = g_strdup_printf ("%s, %s: %s%s%s", item, who, says,
                              *says != '\0' && *words != '\0' ? ": " : "", words);
    }
  gtk_label_set_text (GTK_LABEL (form->whole), any ? text : "");
  gtk_widget_set_visible (form->whole, any);
}

static GtkWidget *
scrolled_with (GtkWidget *child, int least_height)
{
  GtkWidget *scrolled = gtk_scrolled_window_new (NULL, NULL);

  gtk_scrolled_window_set_shadow_type (GTK_SCROLLED_WINDOW (scrolled), GTK_SHADOW_IN);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scrolled), least_height);
  gtk_container_add (GTK_CONTAINER (scrolled), child);
  return scrolled;
}

static GtkWidget *
hidden_label (GtkWidget *box, const char *class)
{
  GtkWidget *label = sw_container_add_line (box, "", class);

  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_widget_set_can_focus (label, FALSE);
  gtk_widget_set_no_show_all (label, TRUE);
  gtk_widget_hide (label);
  return label;
}

static void
add_take_row (Form *form, GtkWidget *box)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *label = gtk_label_new_with_mnemonic (_ ("_Whose"));
  GtkWidget *file = gtk_button_new_with_mnemonic (_ ("Choose a _file…"));

  form->by = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (form->by), _ ("where they do not say so"));
  gtk_widget_set_hexpand (form->by, TRUE);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), form->by);
  form->take = gtk_button_new_with_mnemonic (_ ("_Take in"));
  gtk_style_context_add_class (gtk_widget_get_style_context (form->take),
                               GTK_STYLE_CLASS_SUGGESTED_ACTION);
  gtk_container_add (GTK_CONTAINER (row), label);
  gtk_container_add (GTK_CONTAINER (row), form->by);
  gtk_container_add (GTK_CONTAINER (buttons), file);
  gtk_container_add (GTK_CONTAINER (buttons), form->take);
  gtk_widget_set_halign (buttons, GTK_ALIGN_END);
  gtk_container_add (GTK_CONTAINER (box), row);
  gtk_container_add (GTK_CONTAINER (box), buttons);
  g_signal_connect_swapped (form->take, "clicked", G_CALLBACK (on_take), form);
  g_signal_connect_swapped (file, "clicked", G_CALLBACK (on_choose), form);
  gtk_widget_set_sensitive (row, !sw_store_overview (form->store)->read_only);
  gtk_widget_set_sensitive (buttons, !sw_store_overview (form->store)->read_only);
}

static void
add_content (Form *form)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  GtkWidget *content = gtk_dialog_get_content_area (GTK_DIALOG (form->dialog));
  GtkWidget *paste;

  gtk_container_set_border_width (GTK_CONTAINER (box), 18);
  sw_container_add_line (box,
                         _ ("Paste what came back, or type what was read out: 12 mine, 14 keep, "
                            "15 sell: too heavy."),
                         NULL);
  form->text = gtk_text_view_new ();
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (form->text), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (form->text), FALSE);
  gtk_text_view_set_left_margin (GTK_TEXT_VIEW (form->text), 6);
  gtk_text_view_set_top_margin (GTK_TEXT_VIEW (form->text), 4);
  atk_object_set_name (gtk_widget_get_accessible (form->text), _ ("Answers as text"));
  paste = scrolled_with (form->text, 72);
  gtk_container_add (GTK_CONTAINER (box), paste);
  add_take_row (form, box);
  form->problem = hidden_label (box, "sw-problem");
  form->report = hidden_label (box, NULL);
  sw_container_add_line (box, _ ("Who said what"), "sw-heading");
  form->nobody = sw_container_add_line (box, _ ("Nobody has answered yet."), "dim-label");
  form->rows = gtk_list_store_new (N_COLS, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING,
                                   G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING);
  form->list = gtk_tree_view_new_with_model (GTK_TREE_MODEL (form->rows));
  atk_object_set_name (gtk_widget_get_accessible (form->list), _ ("Who said what"));
  gtk_style_context_add_class (gtk_widget_get_style_context (form->list), "sw-answers");
  add_columns (form);
  form->scrolled = scrolled_with (form->list, 160);
  gtk_widget_set_vexpand (form->scrolled, TRUE);
  gtk_container_add (GTK_CONTAINER (box), form->scrolled);
  form->whole = hidden_label (box, NULL);
  g_signal_connect (gtk_tree_view_get_selection (GTK_TREE_VIEW (form->list)), "changed",
                    G_CALLBACK (show_whole), form);
  gtk_box_pack_start (GTK_BOX (content), box, TRUE, TRUE, 0);
  gtk_widget_show_all (form->dialog);
  gtk_widget_hide (form->nobody);
  gtk_widget_hide (form->scrolled);
}

void
sw_answers_form_open (GtkWindow *parent, SwStore *store)
{
  Form *form = g_new0 (Form, 1);

  form->store = g_object_ref (store);
  form->dialog = gtk_dialog_new_with_buttons (
      _ ("Answers of the family"), parent,
      GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, NULL, NULL);
  gtk_window_set_default_size (GTK_WINDOW (form->dialog), 620, 560);
  g_object_set_data_full (G_OBJECT (form->dialog), "sw-form", form, form_free);
  add_content (form);
  g_signal_connect (form->dialog, "destroy", G_CALLBACK (on_destroy), form);
  g_signal_connect_swapped (store, "changed", G_CALLBACK (reload), form);
  gtk_widget_grab_focus (form->text);
  reload (form);
}
