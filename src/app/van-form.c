/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One table of fields; why it was refused is said in the form, which stays open until it is done.
 */
#include "app/van-form.h"

#include "app/text.h"
#include "app/trip-acts.h"
#include "core/base/length.h"

typedef enum
{
  PAYLOAD,
  LENGTH,
  WIDTH,
  HEIGHT,
  DOOR_WIDTH,
  DOOR_HEIGHT,
  RUNS,
  KEPT,
  N_FIELDS
} Field;

static const struct
{
  const char *label, *hint;
} fields[N_FIELDS] = {
  [PAYLOAD] = { N_ ("It may _carry"), N_ ("850 kg, as its papers say") },
  [LENGTH] = { N_ ("Floor _length"), N_ ("2.6 m") },
  [WIDTH] = { N_ ("Floor _width"), N_ ("1.3 m between the arches") },
  [HEIGHT] = { N_ ("_Height inside"), N_ ("1.4 m") },
  [DOOR_WIDTH] = { N_ ("_Door width"), N_ ("1.2 m") },
  [DOOR_HEIGHT] = { N_ ("D_oor height"), N_ ("1.3 m") },
  [RUNS] = { N_ ("It goes so _often"), N_ ("1") },
  [KEPT] = { N_ ("_Kept free for scrap"), N_ ("0 kg of each run") },
};

typedef struct
{
  SwStore *store;
  gint64 trip;
  GtkWidget *problem, *entries[N_FIELDS];
} Form;

static void
form_free (gpointer data, GClosure *closure)
{
  Form *form = data;

  g_object_unref (form->store);
  g_free (form);
}

static void
say (Form *form, const char *sentence)
{
  gtk_label_set_text (GTK_LABEL (form->problem), sentence);
  gtk_widget_show (form->problem);
}

static void
on_tried (gpointer dialog, const char *problem)
{
  if (problem == NULL)
    gtk_widget_destroy (GTK_WIDGET (dialog));
  else
    say (g_object_get_data (dialog, "sw-form"), problem);
}

static gboolean
take_length (Form *form, Field field, gint64 *mm, GError **error)
{
  const char *text = gtk_entry_get_text (GTK_ENTRY (form->entries[field]));

  return *text == '\0' || sw_length_parse (text, mm, error);
}

static gboolean
take_mass (Form *form, Field field, SwMass *mass, GError **error)
{
  const char *text = gtk_entry_get_text (GTK_ENTRY (form->entries[field]));

  return *text == '\0' || sw_mass_parse (text, mass, error);
}

static gboolean
take_runs (Form *form, gint64 *runs, GError **error)
{
  const char *text = gtk_entry_get_text (GTK_ENTRY (form->entries[RUNS]));

  return *text == '\0' || g_ascii_string_to_signed (text, 10, 1, SW_VAN_RUNS_MOST, runs, error);
}

static gboolean
take_all (Form *form, SwVan *van, SwTripLoad *load, GError **error)
{
  return take_mass (form, PAYLOAD, &van->payload, error)
         && take_length (form, LENGTH, &van->length_mm, error)
         && take_length (form, WIDTH, &van->width_mm, error)
         && take_length (form, HEIGHT, &van->height_mm, error)
         && take_length (form, DOOR_WIDTH, &van->door_width_mm, error)
         && take_length (form, DOOR_HEIGHT, &van->door_height_mm, error)
         && take_runs (form, &load->runs, error) && take_mass (form, KEPT, &load->kept, error);
}

static void
on_response (GtkDialog *dialog, int response, Form *form)
{
  g_autoptr (GError) error = NULL;
  SwVan van = { 0 };
  SwTripLoad load = { 1, { 0 } };

  if (response != GTK_RESPONSE_ACCEPT)
    gtk_widget_destroy (GTK_WIDGET (dialog));
  else if (!take_all (form, &van, &load, &error))
    say (form, error->domain == G_NUMBER_PARSER_ERROR
                   ? _ ("How often it goes is a whole number from 1 to 20.")
                   : error->message);
  else
    sw_trip_act_van (form->store, form->trip, &van, &load, G_OBJECT (dialog), on_tried);
}

/* ---- what is known ---- */

static char *
length_text (gint64 mm)
{
  return mm > 0 ? sw_length_to_text (mm) : g_strdup ("");
}

static char *
known_text (const SwLoadSheet *sheet, Field field)
{
  const SwVan *van = &sheet->van;

  switch (field)
    {
    case PAYLOAD:
      return sheet->has_van ? sw_mass_to_text (van->payload) : g_strdup ("");
    case LENGTH:
      return length_text (van->length_mm);
    case WIDTH:
      return length_text (van->width_mm);
    case HEIGHT:
      return length_text (van->height_mm);
    case DOOR_WIDTH:
      return length_text (van->door_width_mm);
    case DOOR_HEIGHT:
      return length_text (van->door_height_mm);
    case RUNS:
      return g_strdup_printf ("%" G_GINT64_FORMAT, sheet->load.runs);
    case KEPT:
      return sheet->load.kept.ug > 0 ? sw_mass_to_text (sheet->load.kept) : g_strdup ("");
    case N_FIELDS:
    default:
      return g_strdup ("");
    }
}

static void
add_field (Form *form, GtkWidget *grid, Field field, const SwLoadSheet *sheet)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (_ (fields[field].label));
  GtkWidget *entry = form->entries[field] = gtk_entry_new ();
  g_autofree char *known = known_text (sheet, field);

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), entry);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _ (fields[field].hint));
  gtk_entry_set_text (GTK_ENTRY (entry), known);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  gtk_entry_set_width_chars (GTK_ENTRY (entry), 24);
  gtk_grid_attach (GTK_GRID (grid), label, 0, (int)field, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), entry, 1, (int)field, 1, 1);
}

static GtkWidget *
make_grid (Form *form, const SwLoadSheet *sheet)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_row_spacing (GTK_GRID (grid), 8);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  gtk_container_set_border_width (GTK_CONTAINER (grid), 18);
  for (int field = 0; field < N_FIELDS; field++)
    add_field (form, grid, (Field)field, sheet);
  form->problem = gtk_label_new (NULL);
  gtk_label_set_line_wrap (GTK_LABEL (form->problem), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (form->problem), 40);
  gtk_label_set_xalign (GTK_LABEL (form->problem), 0);
  gtk_style_context_add_class (gtk_widget_get_style_context (form->problem), "sw-problem");
  gtk_widget_set_no_show_all (form->problem, TRUE);
  gtk_grid_attach (GTK_GRID (grid), form->problem, 0, N_FIELDS, 2, 1);
  return grid;
}

void
sw_van_form_show (GtkWindow *parent, SwStore *store, const SwLoadSheet *sheet)
{
  Form *form = g_new0 (Form, 1);
  GtkWidget *dialog = gtk_dialog_new_with_buttons (
      _ ("The van"), parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, _ ("_Enter"), GTK_RESPONSE_ACCEPT, NULL);

  form->store = g_object_ref (store);
  form->trip = sheet->trip;
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_ACCEPT);
  gtk_window_set_resizable (GTK_WINDOW (dialog), FALSE);
  gtk_container_add (GTK_CONTAINER (gtk_dialog_get_content_area (GTK_DIALOG (dialog))),
                     make_grid (form, sheet));
  g_object_set_data (G_OBJECT (dialog), "sw-form", form);
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_response), form, form_free, 0);
  gtk_widget_show_all (dialog);
}
