/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window of a statement. Reading, matching and booking are core's, on the catalogue thread;
 * with each change of a column the whole is compared anew. */
#include "app/statement-form.h"

#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/act.h"
#include "core/trade/statement.h"

/* Read once, then only read by whoever compares or books; counted. */
typedef struct
{
  gatomicrefcount count;
  SwTable *table;
  GPtrArray *outlets;          /* SwOutlet */
  SwStatementColumns *columns; /* as remembered, one an outlet */
} Source;

static Source *
source_ref (Source *source)
{
  g_atomic_ref_count_inc (&source->count);
  return source;
}

static void
source_unref (gpointer data)
{
  Source *source = data;

  if (!g_atomic_ref_count_dec (&source->count))
    return;
  for (guint i = 0; source->columns != NULL && i < source->outlets->len; i++)
    sw_statement_columns_clear (&source->columns[i]);
  g_free (source->columns);
  g_clear_pointer (&source->outlets, g_ptr_array_unref);
  g_clear_pointer (&source->table, sw_table_free);
  g_free (source);
}

typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
  Source *source;
  GtkWidget *dialog, *outlet, *fields[SW_N_STATEMENT_FIELDS], *result, *sums;
  GCancellable *comparing;
  gboolean filling, sent;
} Form;

#define FORM "sw-statement-form"

static void
form_free (gpointer data)
{
  Form *form = data;

  g_clear_weak_pointer (&form->parent);
  if (form->comparing != NULL)
    g_cancellable_cancel (form->comparing);
  g_clear_object (&form->comparing);
  g_clear_pointer (&form->source, source_unref);
  g_object_unref (form->store);
  g_free (form);
}

/* ---- what is asked of the catalogue thread ---- */

typedef struct
{
  Source *source;
  char *outlet;
  gint64 outlet_id;
  SwStatementColumns columns;
} Wish;

static void
wish_free (gpointer data)
{
  Wish *wish = data;

  source_unref (wish->source);
  sw_statement_columns_clear (&wish->columns);
  g_free (wish->outlet);
  g_free (wish);
}

static const SwOutlet *
chosen_outlet (const Form *form)
{
  int at = gtk_combo_box_get_active (GTK_COMBO_BOX (form->outlet));

  return at >= 0 ? g_ptr_array_index (form->source->outlets, at) : NULL;
}

/* Row 0 of each field is 'not in it'. */
static Wish *
wish_of (const Form *form)
{
  const SwOutlet *outlet = chosen_outlet (form);
  Wish *wish = g_new0 (Wish, 1);

  wish->source = source_ref (form->source);
  wish->outlet = g_strdup (outlet != NULL ? outlet->name : "");
  wish->outlet_id = outlet != NULL ? outlet->id : 0;
  for (int i = 0; i < SW_N_STATEMENT_FIELDS; i++)
    {
      int at = gtk_combo_box_get_active (GTK_COMBO_BOX (form->fields[i]));
      if (at > 0)
        wish->columns.heading[i]
            = g_strdup (sw_table_column_name (form->source->table, (gsize)at - 1));
    }
  return wish;
}

static void
statement_free (gpointer data)
{
  sw_statement_clear (data);
  g_free (data);
}

static gpointer
read_statement (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Wish *wish = data;
  SwStatement *statement = g_new0 (SwStatement, 1);

  if (sw_statement_read (catalogue, wish->outlet, wish->source->table, &wish->columns, statement,
                         error))
    return statement;
  statement_free (statement);
  return NULL;
}

/* Held against the books as they stand now: what was shown may be a moment old. */
static gboolean
run_book (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;
  g_auto (SwAct) act = SW_ACT_INIT;
  g_auto (SwStatement) statement = { 0 };
  guint entered = 0;
  g_autofree char *sentence = NULL;

  if (!sw_act_begin (&act, catalogue, error)
      || !sw_statement_read (catalogue, wish->outlet, wish->source->table, &wish->columns,
                             &statement, error)
      || !sw_statement_columns_keep (catalogue, wish->outlet_id, &wish->columns, error)
      || !sw_statement_book (catalogue, &statement, &entered, error))
    return FALSE;
  sentence = g_strdup_printf (_ ("Statement of %s: %u settled"), wish->outlet, entered);
  return sw_act_commit (&act, sentence, error);
}

/* ---- what came of it ---- */

static gboolean
says_something (const SwStatementLine *line)
{
  return line->says != NULL;
}

static void
add_line (const Form *form, const SwStatementLine *line)
{
  g_autofree char *text
      = *line->reference != '\0'
            ? g_strdup_printf (_ ("Line %d, %s: %s"), line->line, line->reference, line->says)
            : g_strdup_printf (_ ("Line %d: %s"), line->line, line->says);

  sw_container_add_line (form->result, text, line->deal == 0 ? "sw-problem" : NULL);
}

static void
show_sums (const Form *form, const SwStatement *statement)
{
  g_autofree char *price = sw_store_money (form->store, statement->price);
  g_autofree char *booked = sw_store_money (form->store, statement->booked_price);
  g_autofree char *fees = sw_store_money (form->store, statement->fees);
  g_autofree char *booked_fees = sw_store_money (form->store, statement->booked_fees);
  g_autofree char *text = sw_text_counted (
      statement->lines->len,
      "%u of %u row matched. Sold for %s, in the books %s. Fees %s, in the books %s.",
      "%u of %u rows matched. Sold for %s, in the books %s. Fees %s, in the books %s.",
      statement->matched, statement->lines->len, price, booked, fees, booked_fees);

  gtk_label_set_text (GTK_LABEL (form->sums), text);
}

static void
show_statement (const Form *form, const SwStatement *statement)
{
  gboolean quiet = statement->missing->len == 0;

  show_sums (form, statement);
  for (guint i = 0; i < statement->lines->len; i++)
    {
      const SwStatementLine *line = g_ptr_array_index (statement->lines, i);
      quiet = quiet && !says_something (line);
      if (says_something (line))
        add_line (form, line);
    }
  for (guint i = 0; i < statement->missing->len; i++)
    {
      g_autofree char *text
          = g_strdup_printf (_ ("%s was sold there in those days, and is not in the statement."),
                             (const char *)g_ptr_array_index (statement->missing, i));
      sw_container_add_line (form->result, text, "sw-problem");
    }
  if (quiet)
    sw_container_add_line (form->result, _ ("It agrees with the books to the cent."), NULL);
}

static void
on_compared (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (GtkWidget) dialog = data;
  Form *form = g_object_get_data (G_OBJECT (dialog), FORM);
  g_autoptr (GError) error = NULL;
  SwStatement *statement;

  if (form == NULL || form->dialog == NULL)
    return;
  statement = sw_store_finish (form->store, result, &error);
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  sw_container_empty (form->result);
  gtk_label_set_text (GTK_LABEL (form->sums), "");
  gtk_dialog_set_response_sensitive (GTK_DIALOG (dialog), GTK_RESPONSE_ACCEPT, statement != NULL);
  if (statement != NULL)
    show_statement (form, statement);
  else
    sw_container_add_line (form->result, error->message, "sw-problem");
  g_clear_pointer (&statement, statement_free);
}

static void
compare (Form *form)
{
  if (form->filling || chosen_outlet (form) == NULL)
    return;
  if (form->comparing != NULL)
    g_cancellable_cancel (form->comparing);
  g_clear_object (&form->comparing);
  form->comparing = g_cancellable_new ();
  gtk_dialog_set_response_sensitive (GTK_DIALOG (form->dialog), GTK_RESPONSE_ACCEPT, FALSE);
  sw_store_read (form->store, SW_RANK_VISIBLE, read_statement, wish_of (form), wish_free,
                 statement_free, form->comparing, on_compared, g_object_ref (form->dialog));
}

/* ---- the window ---- */

/* What the outlet's statements held before; else what is chosen already, and at first a heading
 * that is the field's own word. */
static void
fill_fields (Form *form)
{
  int outlet = gtk_combo_box_get_active (GTK_COMBO_BOX (form->outlet));

  form->filling = TRUE;
  for (int i = 0; i < SW_N_STATEMENT_FIELDS; i++)
    {
      const char *known = outlet >= 0 ? form->source->columns[outlet].heading[i] : NULL;
      if (known == NULL && gtk_combo_box_get_active (GTK_COMBO_BOX (form->fields[i])) > 0)
        continue;
      int at = sw_table_find_column (form->source->table,
                                     known != NULL ? known
                                                   : sw_statement_field_word ((SwStatementField)i));
      gtk_combo_box_set_active (GTK_COMBO_BOX (form->fields[i]), at + 1);
    }
  form->filling = FALSE;
}

/* The first outlet whose statements had these columns before; else the first. */
static int
likely_outlet (const Form *form)
{
  for (guint o = 0; o < form->source->outlets->len; o++)
    {
      int known = 0, there = 0;
      for (int i = 0; i < SW_N_STATEMENT_FIELDS; i++)
        {
          const char *heading = form->source->columns[o].heading[i];
          known += heading != NULL;
          there += heading != NULL && sw_table_find_column (form->source->table, heading) >= 0;
        }
      if (known > 0 && there == known)
        return (int)o;
    }
  return 0;
}

static void
on_outlet (Form *form)
{
  fill_fields (form);
  compare (form);
}

static GtkWidget *
attach_combo (GtkWidget *grid, const char *label_text, int row)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (label_text);
  GtkWidget *combo = gtk_combo_box_text_new ();

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), combo);
  /* else it is called by what is chosen in it */
  atk_object_set_name (gtk_widget_get_accessible (combo), gtk_label_get_text (GTK_LABEL (label)));
  gtk_widget_set_hexpand (combo, TRUE);
  sw_combo_ellipsize (combo);
  gtk_grid_attach (GTK_GRID (grid), label, 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), combo, 1, row, 1, 1);
  return combo;
}

static void
fill_headings (const Form *form, GtkWidget *combo)
{
  gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (combo), _ ("not in it"));
  for (gsize i = 0; i < sw_table_n_columns (form->source->table); i++)
    gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (combo),
                                    sw_table_column_name (form->source->table, i));
}

static GtkWidget *
fields_new (Form *form)
{
  static const char *const labels[SW_N_STATEMENT_FIELDS] = {
    [SW_STATEMENT_REFERENCE] = N_ ("_Reference"),
    [SW_STATEMENT_DAY] = N_ ("_Day"),
    [SW_STATEMENT_PRICE] = N_ ("_Price"),
    [SW_STATEMENT_FEES] = N_ ("_Fees"),
  };
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  form->outlet = attach_combo (grid, _ ("_Outlet"), 0);
  for (guint i = 0; i < form->source->outlets->len; i++)
    gtk_combo_box_text_append_text (
        GTK_COMBO_BOX_TEXT (form->outlet),
        ((const SwOutlet *)g_ptr_array_index (form->source->outlets, i))->name);
  for (int i = 0; i < SW_N_STATEMENT_FIELDS; i++)
    {
      form->fields[i] = attach_combo (grid, _ (labels[i]), i + 1);
      fill_headings (form, form->fields[i]);
      g_signal_connect_swapped (form->fields[i], "changed", G_CALLBACK (compare), form);
    }
  g_signal_connect_swapped (form->outlet, "changed", G_CALLBACK (on_outlet), form);
  return grid;
}

/* All that is read below the fields: it is scrolled as one, so that large letters leave it room. */
static GtkWidget *
result_new (Form *form)
{
  GtkWidget *scrolled = gtk_scrolled_window_new (NULL, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  form->result = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  form->sums = sw_container_add_line (box, "", "sw-state");
  gtk_box_pack_start (GTK_BOX (box), form->result, TRUE, TRUE, 0);
  sw_container_add_line (box,
                         _ ("Entered are fees as charged, and as paid what was still owed; nothing "
                            "twice. Where a price differs the books stay as they are."),
                         "dim-label");
  gtk_container_add (GTK_CONTAINER (scrolled), box);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scrolled), 150);
  gtk_widget_set_vexpand (scrolled, TRUE);
  return scrolled;
}

static void
on_tried (gpointer dialog, const char *problem)
{
  Form *form = g_object_get_data (dialog, FORM);

  form->sent = FALSE;
  if (problem == NULL)
    {
      gtk_widget_destroy (GTK_WIDGET (dialog));
      return;
    }
  sw_container_empty (form->result);
  sw_container_add_line (form->result, problem, "sw-problem");
}

static void
on_response (GtkDialog *dialog, int response, Form *form)
{
  if (response != GTK_RESPONSE_ACCEPT)
    gtk_widget_destroy (GTK_WIDGET (dialog));
  else if (!form->sent)
    {
      form->sent = TRUE;
      sw_store_try (form->store, run_book, wish_of (form), wish_free, G_OBJECT (dialog), on_tried);
    }
}

static void
on_destroy (Form *form)
{
  form->dialog = NULL; /* an answer that comes later finds nobody */
}

static void
open_dialog (Form *form)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  form->dialog = gtk_dialog_new_with_buttons (
      _ ("Statement of an outlet"), form->parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, _ ("_Enter it"), GTK_RESPONSE_ACCEPT, NULL);
  g_object_set_data_full (G_OBJECT (form->dialog), FORM, form, form_free);
  gtk_container_set_border_width (GTK_CONTAINER (box), 18);
  gtk_box_pack_start (GTK_BOX (box), fields_new (form), FALSE, FALSE, 0);
  gtk_box_pack_start (GTK_BOX (box), result_new (form), TRUE, TRUE, 0);
  gtk_container_add (GTK_CONTAINER (gtk_dialog_get_content_area (GTK_DIALOG (form->dialog))), box);
  gtk_window_set_default_size (GTK_WINDOW (form->dialog), 560, 560);
  gtk_dialog_set_response_sensitive (GTK_DIALOG (form->dialog), GTK_RESPONSE_ACCEPT, FALSE);
  gtk_dialog_set_default_response (GTK_DIALOG (form->dialog), GTK_RESPONSE_ACCEPT);
  g_signal_connect (form->dialog, "response", G_CALLBACK (on_response), form);
  g_signal_connect_swapped (form->dialog, "destroy", G_CALLBACK (on_destroy), form);
  gtk_widget_show_all (form->dialog);
  gtk_combo_box_set_active (GTK_COMBO_BOX (form->outlet), likely_outlet (form));
}

/* ---- the file ---- */

static gpointer
read_source (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  Source *source = g_new0 (Source, 1);

  g_atomic_ref_count_init (&source->count);
  source->table = sw_table_read_file (data, error);
  source->outlets = source->table != NULL ? sw_outlet_list (catalogue, error) : NULL;
  if (source->outlets != NULL)
    source->columns = g_new0 (SwStatementColumns, source->outlets->len + 1);
  for (guint i = 0; source->outlets != NULL && i < source->outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (source->outlets, i);
      if (!sw_statement_columns_get (catalogue, outlet->id, &source->columns[i], error))
        {
          source_unref (source);
          return NULL;
        }
    }
  if (source->outlets != NULL)
    return source;
  source_unref (source);
  return NULL;
}

static void
on_source (GObject *object, GAsyncResult *result, gpointer data)
{
  Form *form = data;
  g_autoptr (GError) error = NULL;

  form->source = sw_store_finish (form->store, result, &error);
  if (form->source != NULL && form->parent != NULL && form->source->outlets->len > 0)
    {
      open_dialog (form); /* takes the form */
      return;
    }
  if (form->source != NULL)
    sw_store_tell (form->store,
                   _ ("There is no outlet yet whose statement it could be; enter it under "
                      "Outlets."),
                   TRUE);
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    sw_store_tell (form->store, error->message, TRUE);
  form_free (form);
}

static void
on_file (GtkNativeDialog *dialog, int response, Form *form)
{
  g_autofree char *path = response == GTK_RESPONSE_ACCEPT
                              ? gtk_file_chooser_get_filename (GTK_FILE_CHOOSER (dialog))
                              : NULL;

  sw_native_dialog_done (dialog);
  if (path == NULL)
    {
      form_free (form);
      return;
    }
  sw_store_read (form->store, SW_RANK_VISIBLE, read_source, g_steal_pointer (&path), g_free,
                 source_unref, NULL, on_source, form);
}

void
sw_statement_form_ask (GtkWindow *parent, SwStore *store)
{
  Form *form = g_new0 (Form, 1);
  GtkFileChooserNative *dialog
      = gtk_file_chooser_native_new (_ ("Statement of an outlet, as CSV"), parent,
                                     GTK_FILE_CHOOSER_ACTION_OPEN, _ ("_Read it"), _ ("_Cancel"));

  form->store = g_object_ref (store);
  g_set_weak_pointer (&form->parent, parent);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (on_file), form);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}
