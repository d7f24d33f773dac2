/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays out what core/trade valued; every figure is its. */
#include "core/handout/inventory.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/handout/known.h"
#include "core/handout/paper.h"
#include "core/handout/target.h"

/* Small in print: some 150 dpi. */
#define PICTURE_SIDE 260
#define JPEG_QUALITY 75

typedef struct
{
  char *place, *head, *text, *figure;
  SwOutPhoto *photo; /* NULL: none */
} Entry;

struct _SwInventory
{
  char *folder, *title;
  GPtrArray *lines;   /* char *: over the entries */
  GPtrArray *entries; /* Entry */
};

static void
entry_free (gpointer data)
{
  Entry *entry = data;

  g_free (entry->place);
  g_free (entry->head);
  g_free (entry->text);
  g_free (entry->figure);
  sw_out_photo_free (entry->photo);
  g_free (entry);
}

void
sw_inventory_free (SwInventory *inventory)
{
  if (inventory == NULL)
    return;
  g_free (inventory->folder);
  g_free (inventory->title);
  g_clear_pointer (&inventory->lines, g_ptr_array_unref);
  g_clear_pointer (&inventory->entries, g_ptr_array_unref);
  g_free (inventory);
}

/* ---- gathering ---- */

/* Its state, and below it a line for each thing known of it. */
static char *
entry_text (SwCatalogue *catalogue, const SwItem *item, GError **error)
{
  g_autoptr (GPtrArray) facts = sw_fact_list (catalogue, item->id, error);
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);

  if (facts == NULL)
    return NULL;
  g_ptr_array_add (lines, g_strdup (_ (sw_state_word (item->state))));
  sw_known_add_facts (lines, facts, SW_FACT_CONDITION, N_ ("Condition: %s"));
  sw_known_add_facts (lines, facts, SW_FACT_WRONG, N_ ("What is wrong: %s"));
  sw_known_add_size (lines, item);
  sw_known_add_dangers (lines, facts);
  g_ptr_array_add (lines, NULL);
  return g_strjoinv ("\n", (char **)lines->pdata);
}

static Entry *
make_entry (SwCatalogue *catalogue, const SwValuedItem *row, GError **error)
{
  const SwItem *item = row->item;
  g_autoptr (GArray) one = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GPtrArray) photos = NULL;
  g_autofree char *text = entry_text (catalogue, item, error), *value = NULL, *pieces = NULL;
  Entry *entry;

  g_array_append_val (one, item->id);
  photos = text != NULL ? sw_out_photos (catalogue, one, 1, error) : NULL;
  if (photos == NULL)
    return NULL;
  entry = g_new0 (Entry, 1);
  entry->place = g_strdup (item->place_path);
  pieces = sw_text_count (item->count, "%d piece", "%d pieces");
  entry->head
      = item->count > 1
            ? g_strdup_printf ("%" G_GINT64_FORMAT "  %s (%s)", item->id, item->name, pieces)
            : g_strdup_printf ("%" G_GINT64_FORMAT "  %s", item->id, item->name);
  entry->text = g_steal_pointer (&text);
  value = sw_money_to_person (row->value, sw_catalogue_currency (catalogue));
  entry->figure = row->by == SW_VALUED_NOT
                      ? g_strdup (_ (sw_valued_word (row->by)))
                      : g_strdup_printf ("%s\n%s", value, _ (sw_valued_word (row->by)));
  entry->photo = photos->len > 0 ? g_ptr_array_steal_index (photos, 0) : NULL;
  return entry;
}

static void
add_lines (SwCatalogue *catalogue, SwInventory *inventory, const SwValued *valued, SwDay today)
{
  g_autofree char *day = sw_day_to_person (today);
  SwCurrency currency = sw_catalogue_currency (catalogue);
  g_autofree char *total = sw_money_to_person (valued->total, currency);

  g_ptr_array_add (
      inventory->lines,
      g_strdup_printf (_ ("As of %s: %u items that still stand, valued at %s %s in all."), day,
                       valued->rows->len, total, currency.code));
  if (valued->unvalued > 0)
    g_ptr_array_add (
        inventory->lines,
        g_strdup_printf (_ ("%u of them are not valued and count nothing."), valued->unvalued));
  g_ptr_array_add (
      inventory->lines,
      g_strdup (_ ("Each figure says what it rests on. They are the owner's own; where an "
                   "appraisal is asked for, a licensed valuer makes it.")));
}

SwInventory *
sw_inventory_read (SwCatalogue *catalogue, SwDay today, GError **error)
{
  g_autoptr (SwInventory) inventory = g_new0 (SwInventory, 1);
  g_auto (SwValued) valued = { 0 };

  inventory->lines = g_ptr_array_new_with_free_func (g_free);
  inventory->entries = g_ptr_array_new_with_free_func (entry_free);
  if (!sw_valued_read (catalogue, &valued, error))
    return NULL;
  inventory->folder = g_strdup (sw_catalogue_folder (catalogue));
  inventory->title = g_strdup_printf (_ ("%s: inventory"), sw_catalogue_name (catalogue));
  add_lines (catalogue, inventory, &valued, today);
  for (guint i = 0; i < valued.rows->len; i++)
    {
      Entry *entry = make_entry (catalogue, g_ptr_array_index (valued.rows, i), error);

      if (entry == NULL)
        return NULL;
      g_ptr_array_add (inventory->entries, entry);
    }
  return g_steal_pointer (&inventory);
}

/* ---- paper ---- */

static gboolean
set_entry (SwPaper *paper, const Entry *entry, SwDecoder *decoder, GCancellable *cancellable,
           SwInventoryReport *report, GError **error)
{
  g_autoptr (SwOutPicture) picture = NULL;

  if (entry->photo != NULL
      && !sw_out_photo_make (entry->photo, decoder, PICTURE_SIDE, JPEG_QUALITY, cancellable,
                             &picture, error))
    return FALSE;
  report->items++;
  report->pictures += picture != NULL;
  report->missing += entry->photo != NULL && picture == NULL;
  sw_paper_pictured (paper, picture != NULL ? picture->jpeg : NULL,
                     picture != NULL ? picture->width : 0, picture != NULL ? picture->height : 0,
                     entry->head, entry->text, entry->figure);
  return TRUE;
}

static SwPaper *
lay_out (const SwInventory *inventory, SwDecoder *decoder, int *done, GCancellable *cancellable,
         SwInventoryReport *report, GError **error)
{
  g_autoptr (SwPaper) paper = sw_paper_new (inventory->title);
  const char *place = NULL;

  sw_paper_heading (paper, inventory->title);
  for (guint i = 0; i < inventory->lines->len; i++)
    sw_paper_line (paper, g_ptr_array_index (inventory->lines, i));
  for (guint i = 0; i < inventory->entries->len; i++)
    {
      const Entry *entry = g_ptr_array_index (inventory->entries, i);

      if (g_strcmp0 (place, entry->place) != 0)
        {
          sw_paper_gap (paper);
          sw_paper_heading (paper, place = entry->place);
        }
      if (!set_entry (paper, entry, decoder, cancellable, report, error))
        return NULL;
      if (done != NULL)
        g_atomic_int_inc (done);
    }
  return g_steal_pointer (&paper);
}

gboolean
sw_inventory_write (const SwInventory *inventory, SwDecoder *decoder, const char *path, int *done,
                    GCancellable *cancellable, SwInventoryReport *out_report, GError **error)
{
  SwInventoryReport report = { 0 };
  g_autoptr (SwPaper) paper = NULL;
  g_autoptr (GBytes) pdf = NULL;

  if (!sw_target_is_outside (inventory->folder, path, error))
    return FALSE;
  paper = lay_out (inventory, decoder, done, cancellable, &report, error);
  pdf = paper != NULL ? sw_paper_pdf (paper, &report.pages, error) : NULL;
  if (pdf == NULL || !sw_paper_write_file (path, ".pdf", pdf, _ ("The inventory"), error))
    return FALSE;
  if (out_report != NULL)
    *out_report = report;
  return TRUE;
}
