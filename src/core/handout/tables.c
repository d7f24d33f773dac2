/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fills rows from the records and writes them twice. Adds nothing up. */
#include "core/handout/tables.h"

#include "core/base/json-line.h"
#include "core/base/language.h"
#include "core/base/table.h"
#include "core/catalogue/act.h"
#include "core/catalogue/buyers.h"
#include "core/catalogue/folder.h"
#include "core/catalogue/items.h"
#include "core/handout/paper.h"
#include "core/handout/target.h"
#include "core/trade/sale-sheet.h"
#include "core/trade/sales.h"

typedef enum
{
  CELL_TEXT,
  CELL_NUMBER,
  CELL_MONEY,
} CellKind;

typedef struct
{
  const char *name;
  CellKind kind;
} Column;

/* A cell: text, or a number or amount; empty where nothing is known. */
typedef struct
{
  gboolean has;
  gint64 number;
  char *text;
} Cell;

typedef struct
{
  const char *name;
  const Column *columns;
  gsize n_columns;
  GArray *cells; /* Cell, row by row */
  SwCurrency currency;
} Table;

static const Column item_columns[] = {
  { "number", CELL_NUMBER },    { "name", CELL_TEXT },          { "place", CELL_TEXT },
  { "state", CELL_TEXT },       { "count", CELL_NUMBER },       { "asking", CELL_MONEY },
  { "reserve", CELL_MONEY },    { "trip", CELL_NUMBER },        { "mass_kg", CELL_TEXT },
  { "mass_source", CELL_TEXT }, { "length_mm", CELL_NUMBER },   { "width_mm", CELL_NUMBER },
  { "height_mm", CELL_NUMBER }, { "outlet", CELL_TEXT },        { "lot", CELL_TEXT },
  { "scrap_class", CELL_TEXT }, { "claim", CELL_TEXT },         { "claim_by", CELL_TEXT },
  { "origin", CELL_NUMBER },    { "never_offer", CELL_NUMBER }, { "photos", CELL_NUMBER },
};

static const Column sale_columns[] = {
  { "ref", CELL_TEXT },    { "day", CELL_TEXT },       { "items", CELL_TEXT },
  { "outlet", CELL_TEXT }, { "amount", CELL_MONEY },   { "delivery", CELL_MONEY },
  { "fees", CELL_MONEY },  { "paid", CELL_MONEY },     { "taken_back", CELL_MONEY },
  { "owed", CELL_MONEY },  { "collected", CELL_TEXT }, { "fell_through", CELL_NUMBER },
  { "buyer", CELL_TEXT },
};

static const Column event_columns[] = {
  { "number", CELL_NUMBER },
  { "act", CELL_NUMBER },
  { "at", CELL_TEXT },
  { "day", CELL_TEXT },
  { "author", CELL_TEXT },
  { "subject", CELL_TEXT },
  { "subject_number", CELL_NUMBER },
  { "verb", CELL_TEXT },
  { "sentence", CELL_TEXT },
  { "undone", CELL_NUMBER },
};

static void
cell_clear (gpointer data)
{
  g_free (((Cell *)data)->text);
}

static void
table_init (Table *table, const char *name, const Column *columns, gsize n, SwCatalogue *catalogue)
{
  *table = (Table){ .name = name, .columns = columns, .n_columns = n };
  table->currency = sw_catalogue_currency (catalogue);
  table->cells = g_array_new (FALSE, TRUE, sizeof (Cell));
  g_array_set_clear_func (table->cells, cell_clear);
}

static void
table_clear (Table *table)
{
  g_clear_pointer (&table->cells, g_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Table, table_clear)

static void
add_text (Table *table, const char *text)
{
  Cell cell = { .has = text != NULL, .text = g_strdup (text) };
  g_array_append_val (table->cells, cell);
}

static void
add_number (Table *table, gboolean has, gint64 number)
{
  Cell cell = { .has = has, .number = number };
  g_array_append_val (table->cells, cell);
}

static void
add_day (Table *table, gboolean has, SwDay day)
{
  g_autofree char *text = has ? sw_day_to_text (day) : NULL;
  add_text (table, text);
}

static guint
n_rows (const Table *table)
{
  return table->cells->len / (guint)table->n_columns;
}

static const Cell *
cell_at (const Table *table, guint row, gsize column)
{
  return &g_array_index (table->cells, Cell, row * table->n_columns + column);
}

/* ---- filling ---- */

/* Kilograms with the decimals needed: micrograms divided by 10^9. */
static char *
mass_kg (const SwItem *item)
{
  if (!item->has_mass)
    return NULL;
  gint64 ug = item->mass.ug;
  GString *text = g_string_new (NULL);
  g_string_printf (text, "%" G_GINT64_FORMAT ".%09" G_GINT64_FORMAT, ug / 1000000000,
                   ug % 1000000000);
  while (text->str[text->len - 1] == '0')
    g_string_truncate (text, text->len - 1);
  if (text->str[text->len - 1] == '.')
    g_string_truncate (text, text->len - 1);
  return g_string_free (text, FALSE);
}

static void
add_item (Table *table, const SwItem *item)
{
  g_autofree char *mass = mass_kg (item);

  add_number (table, TRUE, item->id);
  add_text (table, item->name);
  add_text (table, item->place_path);
  add_text (table, sw_state_word (item->state));
  add_number (table, TRUE, item->count);
  add_number (table, item->has_asking, item->asking.minor);
  add_number (table, item->has_reserve, item->reserve.minor);
  add_number (table, item->trip != 0, item->trip);
  add_text (table, mass);
  add_text (table, item->has_mass ? item->mass_source : NULL);
  add_number (table, item->length_mm != 0, item->length_mm);
  add_number (table, item->width_mm != 0, item->width_mm);
  add_number (table, item->height_mm != 0, item->height_mm);
  add_text (table, item->outlet_name);
  add_text (table, item->lot_name);
  add_text (table, item->scrap_class);
  add_text (table, sw_claim_key (item->claim));
  add_text (table, item->claim_by);
  add_number (table, item->origin != 0, item->origin);
  add_number (table, TRUE, item->never_offer != FALSE);
  add_number (table, TRUE, item->n_photos);
}

static gboolean
fill_items (Table *table, SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, NULL, error);

  for (guint i = 0; items != NULL && i < items->len; i++)
    add_item (table, g_ptr_array_index (items, i));
  return items != NULL;
}

static gboolean
fill_sales (Table *table, SwCatalogue *catalogue, gboolean buyers, GError **error)
{
  g_autoptr (GPtrArray) sales = sw_sale_list (catalogue, error);

  for (guint i = 0; sales != NULL && i < sales->len; i++)
    {
      const SwSale *sale = g_ptr_array_index (sales, i);
      const SwDeal *deal = sale->deal;
      g_autoptr (SwSaleSheet) sheet = sw_sale_sheet (catalogue, deal->id, error);

      if (sheet == NULL)
        return FALSE;
      add_text (table, deal->ref);
      add_day (table, TRUE, deal->ended);
      add_text (table, sale->items);
      add_text (table, deal->outlet_name);
      add_number (table, TRUE, deal->amount.minor);
      add_number (table, TRUE, deal->delivery.minor);
      add_number (table, TRUE, sheet->fees_total.minor);
      add_number (table, TRUE, sale->paid.minor);
      add_number (table, TRUE, sale->taken_back.minor);
      add_number (table, TRUE, sale->owed.minor);
      add_day (table, deal->has_collected, deal->collected);
      add_number (table, TRUE, sale->fell_through != FALSE);
      add_text (table, buyers ? deal->buyer : NULL);
    }
  return sales != NULL;
}

/* Names out of a sentence. Transfer full. */
static char *
blotted (const char *sentence, const GPtrArray *names)
{
  char *text = g_strdup (sentence);

  for (guint i = 0; i < names->len; i++)
    {
      char *without = sw_buyer_blot (text, g_ptr_array_index (names, i), "a buyer");
      if (without == NULL)
        continue;
      g_free (text);
      text = without;
    }
  return text;
}

static gboolean
fill_events (Table *table, SwCatalogue *catalogue, const GPtrArray *names, GError **error)
{
  g_autoptr (GPtrArray) events = sw_event_list (catalogue, error);

  for (guint i = 0; events != NULL && i < events->len; i++)
    {
      const SwEvent *event = g_ptr_array_index (events, i);
      g_autofree char *at = sw_instant_to_text (event->at, sw_catalogue_zone (catalogue));
      g_autofree char *sentence = blotted (event->sentence, names);

      add_number (table, TRUE, event->id);
      add_number (table, TRUE, event->act);
      add_text (table, at);
      add_day (table, event->has_day, event->day);
      add_text (table, event->author);
      add_text (table, event->subject);
      add_number (table, TRUE, event->subject_id);
      add_text (table, event->verb);
      add_text (table, sentence);
      add_number (table, TRUE, event->undone != FALSE);
    }
  return events != NULL;
}

/* ---- writing ---- */

static GBytes *
as_csv (const Table *table)
{
  GString *text = g_string_new (NULL);

  for (gsize c = 0; c < table->n_columns; c++)
    g_string_append_printf (text, "%s%s", c > 0 ? "," : "", table->columns[c].name);
  g_string_append (text, "\r\n");
  for (guint r = 0; r < n_rows (table); r++)
    {
      for (gsize c = 0; c < table->n_columns; c++)
        {
          const Cell *cell = cell_at (table, r, c);

          if (c > 0)
            g_string_append_c (text, ',');
          if (cell->has && table->columns[c].kind == CELL_TEXT)
            sw_table_append_cell (text, cell->text, TRUE);
          else if (cell->has && table->columns[c].kind == CELL_NUMBER)
            g_string_append_printf (text, "%" G_GINT64_FORMAT, cell->number);
          else if (cell->has)
            {
              g_autofree char *money = sw_money_to_plain (sw_money (cell->number), table->currency);
              g_string_append (text, money);
            }
        }
      g_string_append (text, "\r\n");
    }
  return g_string_free_to_bytes (text);
}

static GBytes *
as_json (const Table *table)
{
  GString *text = g_string_new (NULL);

  g_string_append_printf (text,
                          "{\"table\": \"%s\", \"currency\": \"%s\", \"minor_digits\": %d,\n"
                          "\"rows\": [",
                          table->name, table->currency.code, table->currency.digits);
  for (guint r = 0; r < n_rows (table); r++)
    {
      g_string_append (text, r > 0 ? ",\n{" : "\n{");
      for (gsize c = 0; c < table->n_columns; c++)
        {
          const Cell *cell = cell_at (table, r, c);

          g_string_append_printf (text, "%s\"%s\": ", c > 0 ? ", " : "", table->columns[c].name);
          if (!cell->has)
            g_string_append (text, "null");
          else if (table->columns[c].kind == CELL_TEXT)
            sw_json_append_string (text, cell->text);
          else
            g_string_append_printf (text, "%" G_GINT64_FORMAT, cell->number);
        }
      g_string_append_c (text, '}');
    }
  g_string_append (text, "\n]}\n");
  return g_string_free_to_bytes (text);
}

static gboolean
write_one (const Table *table, const char *folder, const char *suffix, GBytes *bytes_taken,
           GError **error)
{
  g_autoptr (GBytes) bytes = bytes_taken;
  g_autofree char *name = g_strconcat (table->name, suffix, NULL);
  g_autofree char *path = g_build_filename (folder, name, NULL);

  return sw_paper_write_file (path, suffix, bytes, _ ("The table"), error);
}

static gboolean
fill_and_write (SwCatalogue *catalogue, const char *folder, gboolean buyers, SwTablesReport *report,
                GError **error)
{
  g_auto (Table) items = { 0 }, sales = { 0 }, events = { 0 };
  g_autoptr (GPtrArray) names = sw_buyer_names (catalogue, error);
  const Table *all[] = { &items, &sales, &events };

  table_init (&items, "items", item_columns, G_N_ELEMENTS (item_columns), catalogue);
  table_init (&sales, "sales", sale_columns, G_N_ELEMENTS (sale_columns), catalogue);
  table_init (&events, "events", event_columns, G_N_ELEMENTS (event_columns), catalogue);
  if (names == NULL)
    return FALSE;
  if (buyers)
    g_ptr_array_set_size (names, 0);
  if (!fill_items (&items, catalogue, error) || !fill_sales (&sales, catalogue, buyers, error)
      || !fill_events (&events, catalogue, names, error))
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (all); i++)
    if (!write_one (all[i], folder, ".csv", as_csv (all[i]), error)
        || !write_one (all[i], folder, ".json", as_json (all[i]), error))
      return FALSE;
  *report = (SwTablesReport){ (int)n_rows (&items), (int)n_rows (&sales), (int)n_rows (&events) };
  return TRUE;
}

gboolean
sw_tables_write (SwCatalogue *catalogue, const char *path, gboolean buyers,
                 SwTablesReport *out_report, GError **error)
{
  g_autofree char *folder = g_canonicalize_filename (path, NULL);
  SwTablesReport report = { 0 };
  int lock = -1;

  if (!sw_target_is_outside (sw_catalogue_folder (catalogue), folder, error)
      || !sw_folder_is_free (folder, error))
    return FALSE;
  g_autofree char *part = sw_folder_part_make (folder, &lock, error);
  if (part == NULL)
    return FALSE;
  if (!fill_and_write (catalogue, part, buyers, &report, error))
    return sw_folder_part_fail (part, lock, folder, error);
  if (!sw_folder_part_place (part, lock, folder, error))
    return FALSE;
  if (out_report != NULL)
    *out_report = report;
  return TRUE;
}
