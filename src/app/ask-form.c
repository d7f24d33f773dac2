/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fields of a table in a dialog; what was typed goes out once it is confirmed. */
#include "app/ask-form.h"

#include "app/text.h"
#include "app/widgets.h"
#include "core/base/text.h"

typedef struct
{
  SwStore *store;
  const SwAskSpec *spec;
  guint n;
  GtkWidget *dialog, *problem;
  GtkWidget *fields[SW_ASK_FIELDS];
  GtkWidget *below;
  SwAskFollow follow;
  SwAskSend send;
  gpointer data;
  GDestroyNotify destroy;
  gboolean sent; /* an answer is awaited */
} Form;

#define FORM "sw-ask-form"

static void
form_free (gpointer data)
{
  Form *form = data;

  if (form->destroy != NULL)
    form->destroy (form->data);
  g_object_unref (form->store);
  g_free (form);
}

static void
say (Form *form, const char *sentence)
{
  gtk_label_set_text (GTK_LABEL (form->problem), sentence);
  gtk_widget_show (form->problem);
  /* where what would come of it says the same, once is enough; with the next letter it is back */
  if (GTK_IS_LABEL (form->below)
      && g_str_equal (gtk_label_get_text (GTK_LABEL (form->below)), sentence))
    gtk_widget_hide (form->below);
  g_signal_emit_by_name (gtk_widget_get_accessible (form->problem), "announcement", sentence);
}

/* ---- fields ---- */

static GtkWidget *
choice_new (const SwAskField *field, const char *const *choices)
{
  GtkWidget *combo = gtk_combo_box_text_new ();

  if (field->choices != NULL)
    choices = field->choices;
  for (; choices != NULL && *choices != NULL; choices++)
    gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (combo), *choices, _ (*choices));
  gtk_combo_box_set_active (GTK_COMBO_BOX (combo), 0);
  return combo;
}

static GtkWidget *
long_new (void)
{
  GtkWidget *view = gtk_text_view_new ();

  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (view), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (view), FALSE);
  gtk_widget_set_size_request (view, -1, 72);
  gtk_style_context_add_class (gtk_widget_get_style_context (view), "sw-long");
  return view;
}

/* Its words are broken where letters are large and the screen is narrow. */
static GtkWidget *
check_new (const char *words)
{
  GtkWidget *check = gtk_check_button_new_with_mnemonic (words);

  gtk_label_set_line_wrap (GTK_LABEL (gtk_bin_get_child (GTK_BIN (check))), TRUE);
  return check;
}

static GtkWidget *
field_new (const SwAskField *field, const char *const *choices)
{
  GtkWidget *entry;

  if (field->kind == SW_FIELD_CHOICE)
    return choice_new (field, choices);
  if (field->kind == SW_FIELD_LONG)
    return long_new ();
  if (field->kind == SW_FIELD_CHECK)
    return check_new (_ (field->label));
  entry = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), field->hint != NULL ? _ (field->hint) : NULL);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  gtk_entry_set_width_chars (GTK_ENTRY (entry), 16); /* the window is wider, letters may be large */
  return entry;
}

static void
set_field (const SwAskField *field, GtkWidget *widget, const char *text)
{
  if (field->kind == SW_FIELD_CHOICE)
    gtk_combo_box_set_active_id (GTK_COMBO_BOX (widget), text);
  else if (field->kind == SW_FIELD_CHECK)
    gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (widget), *text != '\0');
  else if (field->kind == SW_FIELD_LONG)
    gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (widget)), text, -1);
  else
    gtk_entry_set_text (GTK_ENTRY (widget), text);
}

static char *
long_text (GtkWidget *view)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (view));
  GtkTextIter start, end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

/* The money as the table writes it; NULL with an error where it cannot be read. */
static char *
money_value (Form *form, const char *text, GError **error)
{
  SwMoney amount;

  if (*text == '\0')
    return g_strdup ("");
  if (!sw_store_parse_money (form->store, text, &amount, error))
    return NULL;
  return sw_money_to_plain (amount, sw_store_overview (form->store)->currency);
}

static char *
value_of (Form *form, guint i, GError **error)
{
  const SwAskField *field = &form->spec->fields[i];
  GtkWidget *widget = form->fields[i];

  switch (field->kind)
    {
    case SW_FIELD_CHOICE:
      {
        const char *id = gtk_combo_box_get_active_id (GTK_COMBO_BOX (widget));
        return g_strdup (id != NULL ? id : "");
      }
    case SW_FIELD_CHECK:
      return g_strdup (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (widget)) ? "1" : "");
    case SW_FIELD_LONG:
      return long_text (widget);
    case SW_FIELD_MONEY:
      {
        g_autofree char *text = sw_text_tidy (gtk_entry_get_text (GTK_ENTRY (widget)));
        return money_value (form, text, error);
      }
    default:
      return sw_text_tidy (gtk_entry_get_text (GTK_ENTRY (widget)));
    }
}

/* One a field; NULL where one cannot be read, which *out_bad (may be NULL) says. */
static char **
values_of (Form *form, guint *out_bad, GError **error)
{
  g_auto (GStrv) values = g_new0 (char *, form->n + 1);

  for (guint i = 0; i < form->n; i++)
    {
      values[i] = value_of (form, i, error);
      if (values[i] != NULL)
        continue;
      if (out_bad != NULL)
        *out_bad = i;
      return NULL;
    }
  return g_steal_pointer (&values);
}

/* ---- what would come of it ---- */

static void
follow (Form *form)
{
  g_auto (GStrv) values = values_of (form, NULL, NULL);

  gtk_widget_hide (form->problem);
  gtk_widget_show (form->below);
  form->follow (form->store, values, form->data, form->below);
}

static void
follow_fields (Form *form)
{
  for (guint i = 0; i < form->n; i++)
    {
      SwFieldKind kind = form->spec->fields[i].kind;
      gpointer from = kind == SW_FIELD_LONG
                          ? (gpointer)gtk_text_view_get_buffer (GTK_TEXT_VIEW (form->fields[i]))
                          : form->fields[i];
      g_signal_connect_swapped (from, kind == SW_FIELD_CHECK ? "toggled" : "changed",
                                G_CALLBACK (follow), form);
    }
  follow (form);
}

/* ---- confirming ---- */

static void
on_tried (gpointer dialog, const char *problem)
{
  Form *form = g_object_get_data (dialog, FORM);

  form->sent = FALSE;
  if (problem == NULL)
    gtk_widget_destroy (GTK_WIDGET (dialog));
  else
    say (form, problem);
}

static void
confirm (Form *form)
{
  g_autoptr (GError) error = NULL;
  guint bad = 0;
  g_auto (GStrv) values = values_of (form, &bad, &error);

  if (values == NULL)
    {
      say (form, error->message);
      gtk_widget_grab_focus (form->fields[bad]);
      return;
    }
  gtk_widget_hide (form->problem);
  form->sent = TRUE;
  form->send (form->store, values, form->data, G_OBJECT (form->dialog), on_tried);
}

static void
on_response (GtkDialog *dialog, int response, Form *form)
{
  if (response != GTK_RESPONSE_ACCEPT)
    gtk_widget_destroy (GTK_WIDGET (dialog));
  else if (!form->sent)
    confirm (form);
}

/* ---- the window ---- */

static void
attach_field (Form *form, GtkWidget *grid, guint i, const SwAsk *ask)
{
  const SwAskField *field = &form->spec->fields[i];
  GtkWidget *widget = field_new (field, ask->choices), *label;

  form->fields[i] = widget;
  gtk_widget_set_hexpand (widget, TRUE);
  gtk_grid_attach (GTK_GRID (grid), widget, 1, (int)i, 1, 1);
  if (ask->begun != NULL && ask->begun[i] != NULL)
    set_field (field, widget, ask->begun[i]);
  if (field->kind == SW_FIELD_CHECK)
    return;
  label = gtk_label_new_with_mnemonic (_ (field->label));
  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), widget);
  gtk_grid_attach (GTK_GRID (grid), label, 0, (int)i, 1, 1);
}

/* What the header bar, the margins and a sentence of what is wrong take of a window's height. */
#define BESIDE_FIELDS 150

/* A sentence of what is wrong takes its room from the fields: not from the one being typed in. */
static void
keep_focus_in_view (GtkAdjustment *vertical, GParamSpec *pspec, GtkWidget *grid)
{
  GtkWidget *field = gtk_container_get_focus_child (GTK_CONTAINER (grid));
  int y = 0;

  if (field != NULL && gtk_widget_translate_coordinates (field, grid, 0, 0, NULL, &y))
    gtk_adjustment_clamp_page (vertical, y, y + gtk_widget_get_allocated_height (field));
}

/* The fields of a form that would be higher than its parent, with large letters, are scrolled; the
 * one that has the keyboard stays in view. */
static GtkWidget *
within_parent (GtkWidget *grid, GtkWidget *above, GtkWindow *parent)
{
  int most = parent != NULL ? gtk_widget_get_allocated_height (GTK_WIDGET (parent)) : 0, taken = 0;

  if (above != NULL)
    gtk_widget_get_preferred_height (above, NULL, &taken);
  GtkWidget *scrolled = sw_scrolled_new (grid, GTK_ORIENTATION_VERTICAL,
                                         most > 0 ? MAX (most - taken - BESIDE_FIELDS, 120) : -1);
  g_signal_connect_object (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scrolled)),
                           "notify::page-size", G_CALLBACK (keep_focus_in_view), grid, 0);
  return scrolled;
}

static void
fill (Form *form, const SwAsk *ask, GtkWindow *parent)
{
  GtkWidget *grid = gtk_grid_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  gtk_container_set_border_width (GTK_CONTAINER (box), 18);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 8);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  if (ask->above != NULL)
    gtk_box_pack_start (GTK_BOX (box), ask->above, TRUE, TRUE, 0);
  for (guint i = 0; form->spec->fields[i].kind != SW_FIELD_END; i++)
    {
      attach_field (form, grid, i, ask);
      form->n = i + 1;
    }
  if (ask->below != NULL)
    gtk_grid_attach (GTK_GRID (grid), ask->below, 0, (int)form->n, 2, 1);
  if (ask->above != NULL)
    gtk_widget_show_all (ask->above);
  gtk_box_pack_start (GTK_BOX (box), within_parent (grid, ask->above, parent), ask->above == NULL,
                      TRUE, 0);
  form->problem = gtk_label_new (NULL);
  gtk_label_set_line_wrap (GTK_LABEL (form->problem), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (form->problem), 44);
  gtk_label_set_xalign (GTK_LABEL (form->problem), 0);
  gtk_style_context_add_class (gtk_widget_get_style_context (form->problem), "sw-problem");
  gtk_widget_set_no_show_all (form->problem, TRUE);
  gtk_box_pack_start (GTK_BOX (box), form->problem, FALSE, FALSE, 0);
  gtk_container_add (GTK_CONTAINER (gtk_dialog_get_content_area (GTK_DIALOG (form->dialog))), box);
}

/* The first field that is empty; where none is, the first one, so that Enter confirms. */
static void
focus_first (Form *form)
{
  GtkWidget *first = NULL;

  for (guint i = 0; i < form->n; i++)
    {
      if (!GTK_IS_ENTRY (form->fields[i]))
        continue;
      if (*gtk_entry_get_text (GTK_ENTRY (form->fields[i])) == '\0')
        {
          gtk_widget_grab_focus (form->fields[i]);
          return;
        }
      if (first == NULL)
        first = form->fields[i];
    }
  if (first != NULL)
    gtk_widget_grab_focus (first);
}

GtkWidget *
sw_ask_form_show (GtkWindow *parent, SwStore *store, const SwAsk *ask)
{
  Form *form = g_new0 (Form, 1);

  form->store = g_object_ref (store);
  form->spec = ask->spec;
  form->below = ask->below;
  form->follow = ask->follow;
  form->send = ask->send;
  form->data = ask->data;
  form->destroy = ask->destroy;
  form->dialog = gtk_dialog_new_with_buttons (
      _ (ask->spec->title), parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, _ (ask->spec->button), GTK_RESPONSE_ACCEPT, NULL);
  gtk_window_set_default_size (GTK_WINDOW (form->dialog), 430, -1);
  gtk_dialog_set_default_response (GTK_DIALOG (form->dialog), GTK_RESPONSE_ACCEPT);
  g_object_set_data_full (G_OBJECT (form->dialog), FORM, form, form_free);
  fill (form, ask, parent);
  g_signal_connect (form->dialog, "response", G_CALLBACK (on_response), form);
  if (form->follow != NULL)
    follow_fields (form);
  gtk_widget_show_all (form->dialog);
  focus_first (form);
  return form->dialog;
}

const char *
sw_ask_form_choice (GtkWidget *window, guint field)
{
  const Form *form = g_object_get_data (G_OBJECT (window), FORM);

  g_return_val_if_fail (
      form != NULL && field < form->n && form->spec->fields[field].kind == SW_FIELD_CHOICE, NULL);
  return gtk_combo_box_get_active_id (GTK_COMBO_BOX (form->fields[field]));
}
