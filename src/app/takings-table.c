/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of takings as a tree view: rows ready as text, the total in bold at the end. No sums
 * here. */
#include "app/takings-table.h"

#include "app/bar-cell.h"
#include "app/text.h"

struct _SwTakingsTable
{
  GtkTreeView parent;
  GtkListStore *rows;
  guint follow;
  gboolean with_costs; /* and the running total, which goes from row to row only there */
  GtkTreeViewColumn *key_column, *takings_column, *costs_column, *running_column, *bar_column;
  GtkCellRenderer *takings_cell;
};

G_DEFINE_TYPE (SwTakingsTable, sw_takings_table, GTK_TYPE_TREE_VIEW)

/* Columns in the order shown; money ones are right-aligned. */
enum
{
  COL_KEY,
  COL_PROCEEDS,
  COL_FEES,
  COL_TAKINGS,
  COL_RUNNING,
  COL_COSTS,
  COL_OWED,
  N_SHOWN,
  COL_WEIGHT = N_SHOWN,
  COL_WHOLE,
  COL_SOLID,
  COL_CORE_KEY,
  COL_BOTH, /* takings, and the running total below them, where it finds no column of its own */
  N_COLS
};
static const char *const titles[N_SHOWN]
    = { N_ ("Trip"),          N_ ("Proceeds"),   N_ ("Fees"), N_ ("Takings"),
        N_ ("Running total"), N_ ("Trip costs"), N_ ("Owed") };
static const char *const key_titles[SW_N_GROUPINGS]
    = { N_ ("Trip"), N_ ("Place"), N_ ("Outlet"), N_ ("Month"), N_ ("Round") };

static GtkTreeViewColumn *
add_column (SwTakingsTable *self, int i)
{
  GtkCellRenderer *cell = gtk_cell_renderer_text_new ();
  GtkTreeViewColumn *column = gtk_tree_view_column_new_with_attributes (
      _ (titles[i]), cell, "text", i, "weight", COL_WEIGHT, NULL);

  if (i == COL_KEY)
    {
      g_object_set (cell, "ellipsize", PANGO_ELLIPSIZE_END, "width-chars", 10, "xpad", 10, NULL);
      gtk_tree_view_column_set_expand (column, TRUE);
    }
  else
    {
      g_object_set (cell, "xalign", 1.0, "xpad", 10, "alignment", PANGO_ALIGN_RIGHT, NULL);
      gtk_tree_view_column_set_alignment (column, 1.0);
    }
  g_object_set (cell, "ypad", 5, NULL);
  gtk_tree_view_append_column (GTK_TREE_VIEW (self), column);
  return column;
}

/* The bars stand between names and figures, where there is room for them. */
static void
add_bars (SwTakingsTable *self)
{
  self->bar_column = gtk_tree_view_column_new_with_attributes (NULL, sw_bar_cell_new (), "whole",
                                                               COL_WHOLE, "solid", COL_SOLID, NULL);
  gtk_tree_view_column_set_expand (self->bar_column, TRUE);
  gtk_tree_view_insert_column (GTK_TREE_VIEW (self), self->bar_column, 1);
  atk_object_set_name (
      gtk_widget_get_accessible (gtk_tree_view_column_get_button (self->bar_column)),
      _ ("Proceeds and takings as bars"));
}

/* Below so many letters the figures need all the width. */
#define LETTERS_FOR_BARS 120

static gboolean
is_wide (SwTakingsTable *self, int width)
{
  GtkWidget *widget = GTK_WIDGET (self);
  PangoContext *context = gtk_widget_get_pango_context (widget);
  PangoFontMetrics *metrics = pango_context_get_metrics (context, NULL, NULL);
  int letter = PANGO_PIXELS_CEIL (pango_font_metrics_get_approximate_char_width (metrics));

  pango_font_metrics_unref (metrics);
  return width >= LETTERS_FOR_BARS * letter;
}

/* Its height is another now, and so is what its cells say. */
static gboolean
tell_row (GtkTreeModel *model, GtkTreePath *path, GtkTreeIter *iter, gpointer data)
{
  gtk_tree_model_row_changed (model, path, iter);
  return FALSE;
}

/* Bars and a column of the running total where there is room; else the total so far stands below
 * the takings of each row. */
static void
set_wide (SwTakingsTable *self, gboolean wide)
{
  gboolean below = self->with_costs && !wide;

  gtk_tree_view_column_set_visible (self->bar_column, wide);
  gtk_tree_view_column_set_visible (self->running_column, self->with_costs && wide);
  g_object_set (self->takings_cell, "ypad", below ? 1 : 5, NULL);
  gtk_tree_view_column_clear_attributes (self->takings_column, self->takings_cell);
  gtk_tree_view_column_set_attributes (self->takings_column, self->takings_cell, "text",
                                       below ? COL_BOTH : COL_TAKINGS, "weight", COL_WEIGHT, NULL);
  gtk_tree_model_foreach (GTK_TREE_MODEL (self->rows), tell_row, NULL);
}

static gboolean
follow_width (gpointer data)
{
  SwTakingsTable *self = data;

  self->follow = 0;
  set_wide (self, is_wide (self, gtk_widget_get_allocated_width (GTK_WIDGET (self))));
  return G_SOURCE_REMOVE;
}

/* Columns must not change while sizes are being given out. */
static void
sw_takings_table_size_allocate (GtkWidget *widget, GtkAllocation *allocation)
{
  SwTakingsTable *self = SW_TAKINGS_TABLE (widget);
  gboolean wide = is_wide (self, allocation->width);

  GTK_WIDGET_CLASS (sw_takings_table_parent_class)->size_allocate (widget, allocation);
  if (wide != gtk_tree_view_column_get_visible (self->bar_column) && self->follow == 0)
    self->follow = g_idle_add (follow_width, self);
}

static void
sw_takings_table_dispose (GObject *object)
{
  g_clear_handle_id (&SW_TAKINGS_TABLE (object)->follow, g_source_remove);
  G_OBJECT_CLASS (sw_takings_table_parent_class)->dispose (object);
}

static void
sw_takings_table_finalize (GObject *object)
{
  g_clear_object (&SW_TAKINGS_TABLE (object)->rows);
  G_OBJECT_CLASS (sw_takings_table_parent_class)->finalize (object);
}

static void
sw_takings_table_class_init (SwTakingsTableClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_takings_table_dispose;
  G_OBJECT_CLASS (klass)->finalize = sw_takings_table_finalize;
  GTK_WIDGET_CLASS (klass)->size_allocate = sw_takings_table_size_allocate;
}

static void
sw_takings_table_init (SwTakingsTable *self)
{
  GtkTreeView *view = GTK_TREE_VIEW (self);

  self->rows
      = gtk_list_store_new (N_COLS, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING,
                            G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_INT, G_TYPE_DOUBLE,
                            G_TYPE_DOUBLE, G_TYPE_STRING, G_TYPE_STRING);
  gtk_tree_view_set_model (view, GTK_TREE_MODEL (self->rows));
  gtk_tree_view_set_enable_search (view, FALSE);
  for (int i = 0; i < N_SHOWN; i++)
    {
      GtkTreeViewColumn *column = add_column (self, i);
      if (i == COL_KEY)
        self->key_column = column;
      if (i == COL_TAKINGS)
        self->takings_column = column;
      if (i == COL_COSTS)
        self->costs_column = column;
      if (i == COL_RUNNING)
        self->running_column = column;
    }
  g_autoptr (GList) cells = gtk_cell_layout_get_cells (GTK_CELL_LAYOUT (self->takings_column));
  self->takings_cell = cells->data;
  self->with_costs = TRUE;
  add_bars (self);
  gtk_style_context_add_class (gtk_widget_get_style_context (GTK_WIDGET (self)), "sw-takings");
}

void
sw_takings_table_set_with_costs (SwTakingsTable *self, gboolean with_costs)
{
  self->with_costs = with_costs;
  gtk_tree_view_column_set_visible (self->costs_column, with_costs);
  set_wide (self, is_wide (self, gtk_widget_get_allocated_width (GTK_WIDGET (self))));
}

/* "2026-04" in words. */
static char *
month_name (const char *key)
{
  g_autofree char *first = g_strdup_printf ("%s-01", key);
  SwDay day;

  return sw_day_parse (first, &day, NULL) ? sw_text_month (day) : g_strdup (key);
}

char *
sw_takings_row_name (SwStore *store, const SwTakingsRow *row, SwGrouping grouping)
{
  const SwTrip *trip = grouping == SW_BY_TRIP ? sw_store_trip (store, row->trip) : NULL;

  if (trip != NULL)
    return sw_text_trip (trip);
  if (g_strcmp0 (row->key, "none") == 0)
    return g_strdup (_ (sw_grouping_none (grouping)));
  if (grouping == SW_BY_TRIP && g_strcmp0 (row->key, "before") == 0)
    return g_strdup (_ ("Before the first trip"));
  if ((grouping == SW_BY_TRIP || grouping == SW_BY_MONTH) && g_strcmp0 (row->key, "waiting") == 0)
    return g_strdup (_ ("Not yet handed over"));
  if (grouping == SW_BY_MONTH)
    return month_name (row->key);
  return g_strdup (row->key);
}

/* Length of a bar; the total has none, since it would dwarf the others. */
static double
part_of (SwMoney amount, gint64 most)
{
  return amount.minor > 0 && most > 0 ? (double)amount.minor / (double)most : 0;
}

static void
add_row (SwTakingsTable *self, SwStore *store, const char *name, const SwTakingsRow *row,
         gint64 most)
{
  gboolean is_total = most == 0;
  g_autofree char *proceeds = sw_store_money (store, row->proceeds);
  g_autofree char *fees = sw_store_money (store, row->fees);
  g_autofree char *takings = sw_store_money (store, row->takings);
  g_autofree char *running = sw_store_money (store, row->running);
  g_autofree char *costs = sw_store_money (store, row->costs);
  g_autofree char *owed = sw_store_money (store, row->owed);
  g_autofree char *so_far = g_strdup_printf (_ ("so far %s"), running);
  g_autofree char *both = g_strjoin ("\n", takings, is_total ? NULL : so_far, NULL);

  gtk_list_store_insert_with_values (
      self->rows, NULL, -1, COL_KEY, name, COL_PROCEEDS, proceeds, COL_FEES, fees, COL_TAKINGS,
      takings, COL_RUNNING, is_total ? "" : running, COL_COSTS, costs, COL_OWED, owed, COL_WEIGHT,
      is_total ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL, COL_WHOLE, part_of (row->proceeds, most),
      COL_SOLID, part_of (row->takings, most), COL_CORE_KEY, row->key, COL_BOTH, both, -1);
}

char *
sw_takings_table_chosen (SwTakingsTable *self, int *out_row)
{
  GtkTreeSelection *selection = gtk_tree_view_get_selection (GTK_TREE_VIEW (self));
  GtkTreeModel *model;
  GtkTreeIter iter;
  char *key = NULL;

  *out_row = -1;
  if (!gtk_tree_selection_get_selected (selection, &model, &iter))
    return NULL;
  gtk_tree_model_get (model, &iter, COL_CORE_KEY, &key, -1);
  if (key == NULL)
    return NULL;
  g_autoptr (GtkTreePath) path = gtk_tree_model_get_path (model, &iter);
  *out_row = gtk_tree_path_get_indices (path)[0];
  return key;
}

/* The row of that key is chosen again, so that a change leaves the person where they were. */
static void
choose_key (SwTakingsTable *self, const char *wanted)
{
  GtkTreeModel *model = GTK_TREE_MODEL (self->rows);
  GtkTreeIter iter;
  gboolean more = wanted != NULL && gtk_tree_model_get_iter_first (model, &iter);

  for (; more; more = gtk_tree_model_iter_next (model, &iter))
    {
      g_autofree char *key = NULL;
      gtk_tree_model_get (model, &iter, COL_CORE_KEY, &key, -1);
      if (g_strcmp0 (key, wanted) != 0)
        continue;
      gtk_tree_selection_select_iter (gtk_tree_view_get_selection (GTK_TREE_VIEW (self)), &iter);
      return;
    }
}

void
sw_takings_table_show (SwTakingsTable *self, SwStore *store, const SwTakings *takings,
                       SwGrouping grouping)
{
  gint64 most = 1;
  int row_before;
  g_autofree char *chosen = sw_takings_table_chosen (self, &row_before);

  for (guint i = 0; i < takings->rows->len; i++)
    {
      const SwTakingsRow *row = g_ptr_array_index (takings->rows, i);
      most = MAX (most, row->proceeds.minor);
    }
  gtk_list_store_clear (self->rows);
  gtk_tree_view_column_set_title (self->key_column, _ (key_titles[grouping]));
  for (guint i = 0; i < takings->rows->len; i++)
    {
      const SwTakingsRow *row = g_ptr_array_index (takings->rows, i);
      g_autofree char *name = sw_takings_row_name (store, row, grouping);
      add_row (self, store, name, row, most);
    }
  add_row (self, store, _ ("Total"), &takings->total, 0);
  choose_key (self, chosen);
}
