/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The small window for cards and tags. Numbers are given out, and pages laid out, on the catalogue
 * thread. */
#include "app/cards-form.h"

#include "app/file-out.h"
#include "app/printing.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/tags.h"
#include "core/handout/cards.h"

#define RESPONSE_PRINT 1
#define RESPONSE_SAVE 2

typedef struct
{
  SwStore *store;
  GtkWindow *parent;
  GtkWidget *dialog, *tags, *labels;
} Form;

/* What the catalogue thread is asked for. */
typedef struct
{
  int n_tags;
  const SwLabelSheet *sheet; /* NULL: with the cards */
} Wish;

static void
form_free (Form *form)
{
  g_clear_object (&form->store);
  g_clear_weak_pointer (&form->parent);
  g_free (form);
}

static char *
what_came (int n_cards, int n_tags, gint64 first_tag)
{
  g_autofree char *cards = sw_text_count ((guint)n_cards, "%d place card", "%d place cards");

  if (n_cards == 0)
    return g_strdup_printf (_ ("tags %" PRId64 " to %" PRId64), first_tag, first_tag + n_tags - 1);
  return n_tags == 0 ? g_steal_pointer (&cards)
                     : g_strdup_printf (_ ("%s, tags %" PRId64 " to %" PRId64), cards, first_tag,
                                        first_tag + n_tags - 1);
}

/* ---- as a file ---- */

static gpointer
write_cards (SwCatalogue *catalogue, gconstpointer data, const char *path, GError **error)
{
  const Wish *wish = data;
  SwCardsReport report;
  g_autofree char *name = g_path_get_basename (path), *what = NULL;

  if (!(wish->sheet != NULL
            ? sw_tags_write (catalogue, wish->sheet, path, wish->n_tags, &report, error)
            : sw_cards_write (catalogue, path, wish->n_tags, &report, error)))
    return NULL;
  what = what_came (report.cards, report.tags, report.first_tag);
  return g_strdup_printf (_ ("%s written: %s"), name, what);
}

static const SwFileOut cards_out = {
  .title = N_ ("Cards and tags as PDF"),
  .name = N_ ("Cards and tags.pdf"),
  .suffix = ".pdf",
  .read = write_cards,
};

/* ---- on paper ---- */

static gboolean
draw_page (gpointer set, int page, cairo_t *cr, GError **error)
{
  return sw_card_set_draw (set, page, cr, error);
}

static const SwPrinting printing = {
  .title = N_ ("Cards and tags"),
  .unit = GTK_UNIT_MM,
  .draw = draw_page,
  .free = (GDestroyNotify)sw_card_set_free,
};

static gpointer
lay_out (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Wish *wish = data;
  g_autofree char *what = NULL;
  SwCardSet *set;
  gint64 first = 0;

  if (wish->n_tags > 0 && !sw_tags_take (catalogue, wish->n_tags, &first, error))
    return NULL;
  set = wish->sheet != NULL ? sw_tag_set_new (catalogue, wish->sheet, first, wish->n_tags, error)
                            : sw_card_set_new (catalogue, first, wish->n_tags, error);
  if (set == NULL)
    return NULL;
  what = what_came (sw_card_set_n_cards (set), wish->n_tags, first);
  return sw_printout_new (&printing, set, sw_card_set_n_pages (set),
                          g_strdup_printf (_ ("Sent to the printer: %s"), what));
}

/* ---- the form ---- */

/* A sheet full where labels were chosen and no number was. */
static Wish
wish_of (const Form *form)
{
  gsize n;
  const SwLabelSheet *sheets = sw_label_sheets (&n);
  int at = gtk_combo_box_get_active (GTK_COMBO_BOX (form->labels));
  Wish wish = { gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (form->tags)), NULL };

  if (at > 0 && at < (int)n)
    wish.sheet = &sheets[at];
  if (wish.sheet != NULL && wish.n_tags == 0)
    wish.n_tags = wish.sheet->columns * wish.sheet->rows;
  return wish;
}

static void
on_response (GtkDialog *dialog, int response, Form *form)
{
  const Wish wish = wish_of (form);

  gtk_widget_destroy (GTK_WIDGET (dialog));
  if (response == RESPONSE_PRINT)
    sw_printing_ask (form->parent, form->store, lay_out, g_memdup2 (&wish, sizeof wish), g_free);
  if (response == RESPONSE_SAVE)
    sw_file_out_ask (form->parent, form->store, &cards_out, g_memdup2 (&wish, sizeof wish), g_free);
  form_free (form);
}

/* The first of the table is the plain paper that the cards are on too. */
static GtkWidget *
labels_new (SwStore *store)
{
  gsize n;
  const SwLabelSheet *sheets = sw_label_sheets (&n);
  GtkWidget *combo = gtk_combo_box_text_new ();

  gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (combo), _ ("Plain paper, with the cards"));
  for (gsize i = 1; i < n; i++)
    {
      g_autofree char *text = g_strdup_printf (_ ("Labels of %s, tags alone"), sheets[i].name);

      gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (combo), text);
    }
  gtk_combo_box_set_active (GTK_COMBO_BOX (combo), 0);
  gtk_widget_set_sensitive (combo, !sw_store_overview (store)->read_only);
  return combo;
}

static void
add_content (Form *form)
{
  GtkWidget *content = gtk_dialog_get_content_area (GTK_DIALOG (form->dialog));
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *label = gtk_label_new_with_mnemonic (_ ("_New tags"));
  GtkWidget *line;

  gtk_container_set_border_width (GTK_CONTAINER (box), 18);
  line = sw_container_add_line (box,
                                _ ("One card for each place on the property, to hang at its door. "
                                   "Photographed first on walking in, it tells where the photos "
                                   "after it were taken."),
                                NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (line), 46);
  form->tags = gtk_spin_button_new_with_range (0, SW_TAGS_AT_ONCE, SW_TAGS_A_PAGE);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), form->tags);
  gtk_entry_set_activates_default (GTK_ENTRY (form->tags), TRUE);
  gtk_widget_set_sensitive (form->tags, !sw_store_overview (form->store)->read_only);
  gtk_container_add (GTK_CONTAINER (row), label);
  gtk_container_add (GTK_CONTAINER (row), form->tags);
  gtk_container_add (GTK_CONTAINER (box), row);
  row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  label = gtk_label_new_with_mnemonic (_ ("_On"));
  form->labels = labels_new (form->store);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), form->labels);
  gtk_container_add (GTK_CONTAINER (row), label);
  gtk_container_add (GTK_CONTAINER (row), form->labels);
  gtk_container_add (GTK_CONTAINER (box), row);
  line = sw_container_add_line (
      box,
      _ ("24 tags fill a plain sheet. Stuck on a thing and photographed first, "
         "a tag makes it an item. Numbers are given out once: tags that "
         "are not printed in the end are lost."),
      "dim-label");
  gtk_label_set_max_width_chars (GTK_LABEL (line), 46);
  gtk_container_add (GTK_CONTAINER (content), box);
}

void
sw_cards_form_open (GtkWindow *parent, SwStore *store)
{
  Form *form = g_new0 (Form, 1);

  form->store = g_object_ref (store);
  g_set_weak_pointer (&form->parent, parent);
  form->dialog = gtk_dialog_new_with_buttons (
      _ ("Cards and tags"), parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, _ ("_Save as PDF…"), RESPONSE_SAVE, _ ("_Print…"), RESPONSE_PRINT, NULL);
  gtk_dialog_set_default_response (GTK_DIALOG (form->dialog), RESPONSE_PRINT);
  gtk_window_set_resizable (GTK_WINDOW (form->dialog), FALSE);
  add_content (form);
  g_signal_connect (form->dialog, "response", G_CALLBACK (on_response), form);
  gtk_widget_show_all (form->dialog);
}
