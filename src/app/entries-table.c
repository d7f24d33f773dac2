/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shows entries as text; money is written by the store. No sums. */
#include "app/entries-table.h"

#include "app/text.h"

/* Far more than anybody reads; the page says so. */
#define ROWS_MOST 500

struct _SwEntriesTable
{
  GtkTreeView parent;
  GtkListStore *rows;
};

G_DEFINE_TYPE (SwEntriesTable, sw_entries_table, GTK_TYPE_TREE_VIEW)

enum
{
  COL_DAY,
  COL_WHAT,
  COL_REF,
  COL_PROCEEDS,
  COL_FEES,
  COL_TAKINGS,
  COL_COSTS,
  COL_OWED,
  N_COLS
};
static const char *const titles[N_COLS]
    = { N_ ("Day"),  N_ ("What"),    N_ ("Ref"),        N_ ("Proceeds"),
        N_ ("Fees"), N_ ("Takings"), N_ ("Trip costs"), N_ ("Owed") };

static void
add_column (SwEntriesTable *self, int i)
{
  GtkCellRenderer *cell = gtk_cell_renderer_text_new ();
  GtkTreeViewColumn *column
      = gtk_tree_view_column_new_with_attributes (_ (titles[i]), cell, "text", i, NULL);

  g_object_set (cell, "xpad", 10, "ypad", 3, NULL);
  if (i >= COL_PROCEEDS)
    {
      g_object_set (cell, "xalign", 1.0, NULL);
      gtk_tree_view_column_set_alignment (column, 1.0);
    }
  if (i == COL_WHAT)
    {
      g_object_set (cell, "ellipsize", PANGO_ELLIPSIZE_END, "width-chars", 16, NULL);
      gtk_tree_view_column_set_expand (column, TRUE);
    }
  gtk_tree_view_append_column (GTK_TREE_VIEW (self), column);
}

static void
add_row (SwEntriesTable *self, SwStore *store, const SwTakingsEntry *entry)
{
  g_autofree char *day = sw_day_written (entry->day);
  g_autofree char *proceeds = sw_store_money (store, entry->proceeds);
  g_autofree char *fees = sw_store_money (store, entry->fees);
  g_autofree char *takings = sw_store_money (store, entry->takings);
  g_autofree char *costs = sw_store_money (store, entry->costs);
  g_autofree char *owed = sw_store_money (store, entry->owed);
  gboolean is_cost = entry->deal == 0;

  gtk_list_store_insert_with_values (
      self->rows, NULL, -1, COL_DAY, day, COL_WHAT,
      *entry->what != '\0' ? entry->what : (is_cost ? _ ("A cost") : _ ("Loose scrap")), COL_REF,
      entry->ref, COL_PROCEEDS, is_cost ? "" : proceeds, COL_FEES, is_cost ? "" : fees, COL_TAKINGS,
      is_cost ? "" : takings, COL_COSTS, is_cost ? costs : "", COL_OWED,
      entry->owed.minor != 0 ? owed : "", -1);
}

void
sw_entries_table_show (SwEntriesTable *self, SwStore *store, const GPtrArray *entries)
{
  gtk_list_store_clear (self->rows);
  for (guint i = 0; entries != NULL && i < MIN (entries->len, ROWS_MOST); i++)
    add_row (self, store, g_ptr_array_index (entries, i));
}

static void
sw_entries_table_finalize (GObject *object)
{
  g_clear_object (&SW_ENTRIES_TABLE (object)->rows);
  G_OBJECT_CLASS (sw_entries_table_parent_class)->finalize (object);
}

static void
sw_entries_table_class_init (SwEntriesTableClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sw_entries_table_finalize;
}

static void
sw_entries_table_init (SwEntriesTable *self)
{
  self->rows
      = gtk_list_store_new (N_COLS, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING,
                            G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING);
  gtk_tree_view_set_model (GTK_TREE_VIEW (self), GTK_TREE_MODEL (self->rows));
  gtk_tree_view_set_enable_search (GTK_TREE_VIEW (self), FALSE);
  for (int i = 0; i < N_COLS; i++)
    add_column (self, i);
  gtk_style_context_add_class (gtk_widget_get_style_context (GTK_WIDGET (self)), "sw-takings");
}
