/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asks what core wants to know and runs it as a job. */
#include "app/family-form.h"

#include "app/file-out.h"
#include "app/out-job.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/archive.h"
#include "core/handout/family.h"
#include "core/handout/tables.h"

#define RESPONSE_PAGE 1
#define RESPONSE_PAPER 2
#define RESPONSE_TABLES 3

/* What was asked for, kept from the form to the end of the job. */
typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
  const SwOutKind *kind;
  char *path, *person;
  gint64 place;
  gboolean prices, buyers;
} Wish;

static void
wish_free (gpointer data)
{
  Wish *wish = data;

  g_clear_weak_pointer (&wish->parent);
  g_object_unref (wish->store);
  g_free (wish->path);
  g_free (wish->person);
  g_free (wish);
}

static Wish *
wish_new (GtkWindow *parent, SwStore *store)
{
  Wish *wish = g_new0 (Wish, 1);

  wish->store = g_object_ref (store);
  g_set_weak_pointer (&wish->parent, parent);
  return wish;
}

static void
on_chosen (char *path, gpointer data)
{
  Wish *wish = data;

  wish->path = path;
  if (path != NULL && wish->parent != NULL)
    sw_out_job_run (wish->parent, wish->store, wish->kind, wish, wish_free);
  else
    wish_free (wish);
}

/* ---- the family choice ---- */

static gpointer
family_begin (SwCatalogue *catalogue, gpointer data, SwOutProgress *progress, GError **error)
{
  const Wish *wish = data;
  SwFamilyWish asked = { .person = wish->person, .place = wish->place, .prices = wish->prices };
  SwFamilyChoice *choice = sw_family_choice_read (catalogue, &asked, error);

  if (choice != NULL)
    g_atomic_int_set (&progress->total, (int)choice->items->len);
  return choice;
}

static char *
family_finish (gpointer begun, gpointer data, SwOutProgress *progress, GCancellable *cancellable,
               GError **error)
{
  const Wish *wish = data;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  g_autofree char *name = g_path_get_basename (wish->path);
  SwFamilyReport report;

  if (!sw_family_choice_write (begun, decoder, wish->path, &progress->done, cancellable, &report,
                               error))
    return NULL;
  g_autofree char *items = sw_text_count ((guint)report.items, "%d item", "%d items");
  g_autofree char *pictures = sw_text_count ((guint)report.pictures, "%d picture", "%d pictures");
  g_autofree char *size = g_format_size ((guint64)report.bytes);
  return report.missing > 0
             ? g_strdup_printf (
                 _ ("%s written: %s, %s, %s. No picture could be made of %d photos."), name, items,
                 pictures, size, report.missing)
             : g_strdup_printf (_ ("%s written: %s, %s, %s."), name, items, pictures, size);
}

static void
choice_free (gpointer choice)
{
  sw_family_choice_free (choice);
}

static const SwOutKind family_kind
    = { N_ ("Family choice"), family_begin, choice_free, family_finish };

typedef struct
{
  Wish *wish;
  GtkWidget *person, *place, *prices;
} FamilyForm;

static void
on_family_response (GtkDialog *dialog, int response, FamilyForm *form)
{
  Wish *wish = g_steal_pointer (&form->wish);
  gboolean paper = response == RESPONSE_PAPER;
  g_autofree char *person = g_strdup (gtk_entry_get_text (GTK_ENTRY (form->person)));
  const char *place = gtk_combo_box_get_active_id (GTK_COMBO_BOX (form->place));

  wish->person = *g_strstrip (person) != '\0' ? g_strdup (person) : NULL;
  wish->place = place != NULL ? g_ascii_strtoll (place, NULL, 10) : 0;
  wish->prices = gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (form->prices));
  wish->kind = &family_kind;
  gtk_widget_destroy (GTK_WIDGET (dialog));
  if ((response == RESPONSE_PAGE || paper) && wish->parent != NULL)
    sw_file_out_ask_path (wish->parent,
                          paper ? _ ("Family choice on paper") : _ ("Family choice as a page"),
                          paper ? _ ("Family choice.pdf") : _ ("Family choice.html"),
                          paper ? ".pdf" : ".html", on_chosen, wish);
  else
    wish_free (wish);
}

static void
family_form_free (gpointer data, GClosure *closure)
{
  FamilyForm *form = data;

  if (form->wish != NULL)
    wish_free (form->wish);
  g_free (form);
}

static GtkWidget *
add_row (GtkWidget *grid, int row, const char *text, GtkWidget *widget)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (text);

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), widget);
  gtk_widget_set_hexpand (widget, TRUE);
  gtk_grid_attach (GTK_GRID (grid), label, 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), widget, 1, row, 1, 1);
  return widget;
}

static GtkWidget *
place_combo (SwStore *store)
{
  GtkWidget *combo = gtk_combo_box_text_new ();
  const GPtrArray *places = sw_store_overview (store)->places;

  gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (combo), "0", _ ("Everywhere"));
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      g_autofree char *id = g_strdup_printf ("%" G_GINT64_FORMAT, place->id);
      gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (combo), id, place->path);
    }
  gtk_combo_box_set_active (GTK_COMBO_BOX (combo), 0);
  sw_combo_ellipsize (combo);
  return combo;
}

static GtkWidget *
form_box (GtkWidget *dialog, const char *text)
{
  GtkWidget *content = gtk_dialog_get_content_area (GTK_DIALOG (dialog));
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  /* no wider than this even where letters are large: its text wraps */
  gtk_window_set_default_size (GTK_WINDOW (dialog), 480, -1);
  gtk_container_set_border_width (GTK_CONTAINER (box), 18);
  sw_container_add_line (box, text, NULL);
  gtk_container_add (GTK_CONTAINER (content), box);
  return box;
}

static void
on_paper (GtkWidget *button, GtkDialog *dialog)
{
  gtk_dialog_response (dialog, RESPONSE_PAPER);
}

/* Not in the title bar: three buttons of large letters are wider than half a screen. */
static void
add_paper_button (GtkWidget *dialog, GtkWidget *box)
{
  GtkWidget *paper = gtk_button_new_with_mnemonic (_ ("On _paper…"));

  gtk_widget_set_halign (paper, GTK_ALIGN_END);
  g_signal_connect (paper, "clicked", G_CALLBACK (on_paper), dialog);
  gtk_container_add (GTK_CONTAINER (box), paper);
}

void
sw_family_form_open (GtkWindow *parent, SwStore *store)
{
  FamilyForm *form = g_new0 (FamilyForm, 1);
  GtkWidget *dialog = gtk_dialog_new_with_buttons (
      _ ("Family choice"), parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, _ ("As a p_age…"), RESPONSE_PAGE, NULL);
  GtkWidget *box = form_box (
      dialog, _ ("What still stands, with pictures, for relatives to say what they would like to "
                 "become of it: one file to send, which needs no network, or paper. Buyers, offers "
                 "and days are never in it."));
  GtkWidget *grid = gtk_grid_new ();

  form->wish = wish_new (parent, store);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 8);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  form->person = add_row (grid, 0, _ ("Put _questions to"), gtk_entry_new ());
  gtk_entry_set_placeholder_text (GTK_ENTRY (form->person), _ ("a name, or nobody"));
  gtk_entry_set_activates_default (GTK_ENTRY (form->person), TRUE);
  form->place = add_row (grid, 1, _ ("P_lace"), place_combo (store));
  form->prices = gtk_check_button_new_with_mnemonic (_ ("_With asking prices"));
  gtk_grid_attach (GTK_GRID (grid), form->prices, 1, 2, 1, 1);
  gtk_container_add (GTK_CONTAINER (box), grid);
  add_paper_button (dialog, box);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), RESPONSE_PAGE);
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_family_response), form,
                         family_form_free, 0);
  gtk_widget_show_all (dialog);
}

/* ---- tables ---- */

static gpointer
tables_begin (SwCatalogue *catalogue, gpointer data, SwOutProgress *progress, GError **error)
{
  const Wish *wish = data;
  SwTablesReport report;
  g_autofree char *name = g_path_get_basename (wish->path);

  if (!sw_tables_write (catalogue, wish->path, wish->buyers, &report, error))
    return NULL;
  return g_strdup_printf (_ ("%s written: %d items, %d sales, %d events."), name, report.items,
                          report.sales, report.events);
}

static char *
tables_finish (gpointer begun, gpointer data, SwOutProgress *progress, GCancellable *cancellable,
               GError **error)
{
  return g_strdup (begun);
}

static const SwOutKind tables_kind = { N_ ("Tables"), tables_begin, g_free, tables_finish };

typedef struct
{
  Wish *wish;
  GtkWidget *buyers;
} TablesForm;

static void
on_tables_response (GtkDialog *dialog, int response, TablesForm *form)
{
  Wish *wish = g_steal_pointer (&form->wish);

  wish->buyers = gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (form->buyers));
  wish->kind = &tables_kind;
  gtk_widget_destroy (GTK_WIDGET (dialog));
  if (response == RESPONSE_TABLES && wish->parent != NULL)
    sw_file_out_ask_path (wish->parent, _ ("Folder of tables"), _ ("Tables"), "", on_chosen, wish);
  else
    wish_free (wish);
}

static void
tables_form_free (gpointer data, GClosure *closure)
{
  TablesForm *form = data;

  if (form->wish != NULL)
    wish_free (form->wish);
  g_free (form);
}

void
sw_tables_form_open (GtkWindow *parent, SwStore *store)
{
  TablesForm *form = g_new0 (TablesForm, 1);
  GtkWidget *dialog = gtk_dialog_new_with_buttons (
      _ ("Tables"), parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, _ ("_Write…"), RESPONSE_TABLES, NULL);
  GtkWidget *box
      = form_box (dialog, _ ("A folder with the items, the sales and the history, each as "
                             "CSV and as JSON, for other programs."));

  form->wish = wish_new (parent, store);
  form->buyers = gtk_check_button_new_with_mnemonic (_ ("With the _names of buyers"));
  gtk_container_add (GTK_CONTAINER (box), form->buyers);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), RESPONSE_TABLES);
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_tables_response), form,
                         tables_form_free, 0);
  gtk_widget_show_all (dialog);
}

/* ---- an archive ---- */

static gpointer
archive_begin (SwCatalogue *catalogue, gpointer data, SwOutProgress *progress, GError **error)
{
  const Wish *wish = data;
  SwArchive *archive = sw_archive_begin (catalogue, wish->path, error);

  if (archive != NULL)
    g_atomic_int_set (&progress->total, (int)sw_archive_n_photos (archive));
  return archive;
}

static char *
archive_finish (gpointer begun, gpointer data, SwOutProgress *progress, GCancellable *cancellable,
                GError **error)
{
  const Wish *wish = data;
  SwArchiveReport report;
  g_autofree char *name = g_path_get_basename (wish->path);

  if (!sw_archive_finish (begun, &progress->done, cancellable, &report, error))
    return NULL;
  g_autofree char *photos = sw_text_count ((guint)report.photos, "%d photo", "%d photos");
  return g_strdup_printf (
      _ ("%s written: %d tables and %s. It holds everything, buyers and positions "
         "too: keep it safe."),
      name, report.tables, photos);
}

static void
archive_free (gpointer archive)
{
  sw_archive_free (archive);
}

static const SwOutKind archive_kind
    = { N_ ("Archive"), archive_begin, archive_free, archive_finish };

void
sw_archive_form_open (GtkWindow *parent, SwStore *store)
{
  Wish *wish = wish_new (parent, store);

  wish->kind = &archive_kind;
  sw_file_out_ask_path (parent, _ ("Archive: a folder with everything in open formats"),
                        _ ("Archive"), "", on_chosen, wish);
}
