/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The small windows for a place and a trip. The rules are core's; why it was refused is said in the
 * form, which stays open until it is done. */
#include "app/forms.h"

#include "app/form-acts.h"
#include "app/text.h"
#include "app/typed-day.h"

typedef struct
{
  SwStore *store;
  GtkWidget *dialog, *problem;
  GtkWidget *fields[3];
  GtkWidget *check;
  GtkWidget *trips; /* to choose from; NULL: a new one is added */
} Form;

static void
form_free (gpointer data, GClosure *closure)
{
  Form *form = data;
  g_object_unref (form->store);
  g_free (form);
}

static GtkWidget *
add_field (GtkWidget *grid, int row, const char *text, const char *hint)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (text);
  GtkWidget *entry = gtk_entry_new ();

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), entry);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), hint);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  gtk_entry_set_width_chars (GTK_ENTRY (entry), 26);
  gtk_grid_attach (GTK_GRID (grid), label, 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), entry, 1, row, 1, 1);
  return entry;
}

/* The dialog with an empty grid; 'add' is the word on its button. */
static Form *
form_new (GtkWindow *parent, SwStore *store, const char *title, const char *add,
          GtkWidget **out_grid, GCallback on_response)
{
  Form *form = g_new0 (Form, 1);
  GtkWidget *content, *grid = gtk_grid_new ();

  form->store = g_object_ref (store);
  form->dialog = gtk_dialog_new_with_buttons (
      title, parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR,
      _ ("_Cancel"), GTK_RESPONSE_CANCEL, add, GTK_RESPONSE_ACCEPT, NULL);
  gtk_dialog_set_default_response (GTK_DIALOG (form->dialog), GTK_RESPONSE_ACCEPT);
  gtk_window_set_resizable (GTK_WINDOW (form->dialog), FALSE);
  content = gtk_dialog_get_content_area (GTK_DIALOG (form->dialog));
  gtk_grid_set_row_spacing (GTK_GRID (grid), 8);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  gtk_container_set_border_width (GTK_CONTAINER (grid), 18);
  gtk_container_add (GTK_CONTAINER (content), grid);
  form->problem = gtk_label_new (NULL);
  gtk_label_set_line_wrap (GTK_LABEL (form->problem), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (form->problem), 40);
  gtk_label_set_xalign (GTK_LABEL (form->problem), 0);
  gtk_style_context_add_class (gtk_widget_get_style_context (form->problem), "sw-problem");
  gtk_widget_set_no_show_all (form->problem, TRUE);
  gtk_grid_attach (GTK_GRID (grid), form->problem, 0, 9, 2, 1);
  g_object_set_data (G_OBJECT (form->dialog), "sw-form", form);
  g_signal_connect_data (form->dialog, "response", on_response, form, form_free, 0);
  *out_grid = grid;
  return form;
}

static const char *
text_of (const Form *form, int i)
{
  return gtk_entry_get_text (GTK_ENTRY (form->fields[i]));
}

static void
say (const Form *form, const char *sentence)
{
  gtk_label_set_text (GTK_LABEL (form->problem), sentence);
  gtk_widget_show (form->problem);
}

/* The answer of the act; the form may be gone by then. */
static void
on_tried (gpointer dialog, const char *problem)
{
  Form *form = g_object_get_data (dialog, "sw-form");

  if (problem == NULL)
    gtk_widget_destroy (GTK_WIDGET (dialog));
  else
    say (form, problem);
}

/* ---- a place ---- */

static void
on_place_response (GtkDialog *dialog, int response, Form *form)
{
  if (response == GTK_RESPONSE_ACCEPT)
    sw_form_act_place (form->store, text_of (form, 0),
                       gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (form->check)),
                       G_OBJECT (dialog), on_tried);
  else
    gtk_widget_destroy (GTK_WIDGET (dialog));
}

void
sw_form_add_place (GtkWindow *parent, SwStore *store)
{
  GtkWidget *grid;
  Form *form = form_new (parent, store, _ ("Add a place"), _ ("_Add"), &grid,
                         G_CALLBACK (on_place_response));

  form->fields[0] = add_field (grid, 0, _ ("_Name"), _ ("Press house > Loft"));
  form->check = gtk_check_button_new_with_mnemonic (_ ("_Off the property (home, shop, yard)"));
  gtk_grid_attach (GTK_GRID (grid), form->check, 1, 1, 1, 1);
  gtk_widget_show_all (form->dialog);
}

/* ---- a trip ---- */

/* 0: a new one. */
static gint64
chosen_trip (const Form *form)
{
  const char *id
      = form->trips != NULL ? gtk_combo_box_get_active_id (GTK_COMBO_BOX (form->trips)) : NULL;

  return id != NULL ? g_ascii_strtoll (id, NULL, 10) : 0;
}

static void
on_trip_response (GtkDialog *dialog, int response, Form *form)
{
  if (response == GTK_RESPONSE_ACCEPT)
    sw_form_act_trip (form->store, chosen_trip (form), text_of (form, 0), text_of (form, 1),
                      text_of (form, 2), G_OBJECT (dialog), on_tried);
  else
    gtk_widget_destroy (GTK_WIDGET (dialog));
}

static void
add_trip_fields (Form *form, GtkWidget *grid)
{
  form->fields[0] = add_field (grid, 1, _ ("_Title"), _ ("Spring stay"));
  form->fields[1] = add_field (grid, 2, _ ("_First day"), _ (SW_DAY_HINT));
  form->fields[2] = add_field (grid, 3, _ ("_Last day"), _ (SW_DAY_HINT));
}

void
sw_form_add_trip (GtkWindow *parent, SwStore *store)
{
  GtkWidget *grid;
  Form *form = form_new (parent, store, _ ("Add a trip"), _ ("_Add"), &grid,
                         G_CALLBACK (on_trip_response));

  add_trip_fields (form, grid);
  gtk_widget_show_all (form->dialog);
}

static void
show_trip (Form *form)
{
  const SwTrip *trip = sw_store_trip (form->store, chosen_trip (form));
  g_autofree char *first = NULL, *last = NULL;

  if (trip == NULL)
    return;
  first = sw_day_written (trip->first);
  last = sw_day_written (trip->last);
  gtk_entry_set_text (GTK_ENTRY (form->fields[0]), trip->title);
  gtk_entry_set_text (GTK_ENTRY (form->fields[1]), first);
  gtk_entry_set_text (GTK_ENTRY (form->fields[2]), last);
  gtk_widget_hide (form->problem);
}

void
sw_form_change_trip (GtkWindow *parent, SwStore *store)
{
  const GPtrArray *trips = sw_store_overview (store)->trips;
  GtkWidget *grid, *label;
  Form *form;

  if (trips->len == 0)
    {
      sw_form_add_trip (parent, store);
      return;
    }
  form = form_new (parent, store, _ ("Change a trip"), _ ("C_hange"), &grid,
                   G_CALLBACK (on_trip_response));
  add_trip_fields (form, grid);
  form->trips = gtk_combo_box_text_new ();
  for (guint i = 0; i < trips->len; i++)
    {
      const SwTrip *trip = g_ptr_array_index (trips, i);
      g_autofree char *id = g_strdup_printf ("%" G_GINT64_FORMAT, trip->id);
      g_autofree char *text = sw_text_trip (trip);
      gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (form->trips), id, text);
    }
  label = gtk_label_new_with_mnemonic (_ ("T_rip"));
  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), form->trips);
  gtk_grid_attach (GTK_GRID (grid), label, 0, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), form->trips, 1, 0, 1, 1);
  g_signal_connect_swapped (form->trips, "changed", G_CALLBACK (show_trip), form);
  gtk_combo_box_set_active (GTK_COMBO_BOX (form->trips), (int)trips->len - 1);
  gtk_widget_show_all (form->dialog);
}
