/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of items over a list that was read and sorted on the catalogue thread. Its model is the
 * list itself: nothing is copied, and a new list takes the place of the old one under the rows that
 * are there. Rows are added and taken away a few at a time: for each the tree view tells assistive
 * technology of every cell, which for 10,000 rows at once takes a second. */
#include "app/item-table.h"

#include <time.h>

#include "app/icon-cell.h"
#include "app/text-cell.h"
#include "app/text.h"
#include "app/widgets.h"

/* ---- the model: row i is item i of the list ---- */

#define SW_TYPE_ITEM_MODEL (sw_item_model_get_type ())
G_DECLARE_FINAL_TYPE (SwItemModel, sw_item_model, SW, ITEM_MODEL, GObject)

struct _SwItemModel
{
  GObject parent;
  SwItemList *list; /* NULL: nothing shown */
  guint rows;       /* that the view knows of; on its way to the length of the list */
};

static GtkTreeModelFlags
model_flags (GtkTreeModel *model)
{
  return GTK_TREE_MODEL_LIST_ONLY | GTK_TREE_MODEL_ITERS_PERSIST;
}

static int
model_n_columns (GtkTreeModel *model)
{
  return 1;
}

static GType
model_column_type (GtkTreeModel *model, int column)
{
  return G_TYPE_POINTER;
}

static gboolean
set_row (GtkTreeModel *model, GtkTreeIter *iter, guint i)
{
  if (i >= SW_ITEM_MODEL (model)->rows)
    return FALSE;
  iter->stamp = 1;
  iter->user_data = GUINT_TO_POINTER (i);
  return TRUE;
}

static guint
row_of (const GtkTreeIter *iter)
{
  return GPOINTER_TO_UINT (iter->user_data);
}

static gboolean
model_iter (GtkTreeModel *model, GtkTreeIter *iter, GtkTreePath *path)
{
  return gtk_tree_path_get_depth (path) == 1
         && set_row (model, iter, (guint)gtk_tree_path_get_indices (path)[0]);
}

static GtkTreePath *
model_path (GtkTreeModel *model, GtkTreeIter *iter)
{
  return gtk_tree_path_new_from_indices ((int)row_of (iter), -1);
}

static void
model_value (GtkTreeModel *model, GtkTreeIter *iter, int column, GValue *value)
{
  SwItemList *list = SW_ITEM_MODEL (model)->list;
  guint i = row_of (iter);

  g_value_init (value, G_TYPE_POINTER);
  g_value_set_pointer (value, list != NULL && i < sw_item_list_length (list)
                                  ? (gpointer)sw_item_list_look (list, i)
                                  : NULL);
}

static gboolean
model_next (GtkTreeModel *model, GtkTreeIter *iter)
{
  return set_row (model, iter, row_of (iter) + 1);
}

static gboolean
model_previous (GtkTreeModel *model, GtkTreeIter *iter)
{
  return row_of (iter) > 0 && set_row (model, iter, row_of (iter) - 1);
}

static gboolean
model_nth (GtkTreeModel *model, GtkTreeIter *iter, GtkTreeIter *parent, int n)
{
  return parent == NULL && n >= 0 && set_row (model, iter, (guint)n);
}

static gboolean
model_children (GtkTreeModel *model, GtkTreeIter *iter, GtkTreeIter *parent)
{
  return model_nth (model, iter, parent, 0);
}

static gboolean
model_has_child (GtkTreeModel *model, GtkTreeIter *iter)
{
  return FALSE;
}

static int
model_n_children (GtkTreeModel *model, GtkTreeIter *iter)
{
  return iter == NULL ? (int)SW_ITEM_MODEL (model)->rows : 0;
}

static gboolean
model_parent (GtkTreeModel *model, GtkTreeIter *iter, GtkTreeIter *child)
{
  return FALSE;
}

static void
sw_item_model_tree_init (GtkTreeModelIface *iface)
{
  iface->get_flags = model_flags;
  iface->get_n_columns = model_n_columns;
  iface->get_column_type = model_column_type;
  iface->get_iter = model_iter;
  iface->get_path = model_path;
  iface->get_value = model_value;
  iface->iter_next = model_next;
  iface->iter_previous = model_previous;
  iface->iter_children = model_children;
  iface->iter_has_child = model_has_child;
  iface->iter_n_children = model_n_children;
  iface->iter_nth_child = model_nth;
  iface->iter_parent = model_parent;
}

G_DEFINE_TYPE_WITH_CODE (SwItemModel, sw_item_model, G_TYPE_OBJECT,
                         G_IMPLEMENT_INTERFACE (GTK_TYPE_TREE_MODEL, sw_item_model_tree_init))

static void
sw_item_model_finalize (GObject *object)
{
  g_clear_pointer (&SW_ITEM_MODEL (object)->list, sw_item_list_unref);
  G_OBJECT_CLASS (sw_item_model_parent_class)->finalize (object);
}

static void
sw_item_model_class_init (SwItemModelClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sw_item_model_finalize;
}

static void
sw_item_model_init (SwItemModel *self)
{
}

static guint
length_of (const SwItemModel *self)
{
  return self->list != NULL ? sw_item_list_length (self->list) : 0;
}

/* One row more or less at the end, on the way to the length of the list. */
static void
step_towards (SwItemModel *self)
{
  gboolean more = self->rows < length_of (self);
  g_autoptr (GtkTreePath) path
      = gtk_tree_path_new_from_indices ((int)(more ? self->rows : self->rows - 1), -1);
  GtkTreeIter iter;

  if (more)
    {
      self->rows++;
      set_row (GTK_TREE_MODEL (self), &iter, self->rows - 1);
      gtk_tree_model_row_inserted (GTK_TREE_MODEL (self), path, &iter);
    }
  else
    {
      self->rows--;
      gtk_tree_model_row_deleted (GTK_TREE_MODEL (self), path);
    }
}

/* ---- the table ---- */

typedef enum
{
  COLUMN_NAME,
  COLUMN_STATE,
  COLUMN_PLACE,
  COLUMN_COUNT,
  COLUMN_ASKING,
  COLUMN_FLOOR,
  COLUMN_MASS,
  COLUMN_TRIP,
  N_COLUMNS,
} Column;

static const struct
{
  const char *title;
  int width; /* px at usual letters; as wide as its words: 0 */
  gboolean right;
  SwItemOrder order; /* SW_N_ITEM_ORDERS: not to be sorted by */
} columns[N_COLUMNS] = {
  [COLUMN_NAME] = { N_ ("Name"), 150, FALSE, SW_ITEMS_BY_NAME },
  [COLUMN_STATE] = { N_ ("State"), 0, FALSE, SW_ITEMS_BY_STATE },
  [COLUMN_PLACE] = { N_ ("Place"), 112, FALSE, SW_ITEMS_BY_PLACE },
  [COLUMN_COUNT] = { N_ ("Count"), 62, TRUE, SW_ITEMS_BY_COUNT },
  [COLUMN_ASKING] = { N_ ("Asking"), 84, TRUE, SW_ITEMS_BY_ASKING },
  [COLUMN_FLOOR] = { N_ ("Floor"), 72, TRUE, SW_N_ITEM_ORDERS },
  [COLUMN_MASS] = { N_ ("Mass"), 80, TRUE, SW_ITEMS_BY_MASS },
  [COLUMN_TRIP] = { N_ ("Trip"), 48, TRUE, SW_ITEMS_BY_TRIP },
};

#define CELL_PAD 8  /* beside a cell's text */
#define ICON_PAD 16 /* beside a symbol, and what the head keeps for itself */

struct _SwItemTable
{
  GtkTreeView parent;
  SwStore *store;
  SwItemModel *model;
  SwItemOrder order;
  gboolean descending, filling;
  GArray *chosen; /* gint64 items to be chosen again once their rows are there */
  guint growing;  /* rows are being added or taken away; 0: all are there */
  GtkTreeViewColumn *columns[N_COLUMNS];
};

enum
{
  CHOSEN,
  ORDER,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwItemTable, sw_item_table, GTK_TYPE_TREE_VIEW)

/* NULL: the row is about to go, or not read yet. */
static const SwItem *
item_at (SwItemTable *self, guint i)
{
  return i < length_of (self->model) ? sw_item_list_look (self->model->list, i) : NULL;
}

static char *
text_of (SwItemTable *self, Column column, guint i)
{
  const SwItem *item = item_at (self, i);
  const SwItemWorth *worth;

  if (item == NULL)
    return NULL;
  worth = sw_item_list_worth (self->model->list, i);
  switch (column)
    {
    case COLUMN_NAME:
      return g_strdup (item->name);
    case COLUMN_STATE:
      return g_strdup (_ (sw_state_word (item->state)));
    case COLUMN_PLACE:
      return g_strdup (item->place_path);
    case COLUMN_COUNT:
      return g_strdup_printf ("%" G_GINT64_FORMAT, item->count);
    case COLUMN_ASKING:
      return item->has_asking ? sw_store_money (self->store, item->asking) : NULL;
    case COLUMN_FLOOR:
      return worth->has_floor ? sw_store_money (self->store, worth->floor) : NULL;
    case COLUMN_MASS:
      return item->has_mass ? sw_mass_to_text (item->mass) : NULL;
    default:
      return item->trip != 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, item->trip) : NULL;
    }
}

static void
fill_cell (GtkTreeViewColumn *tree_column, GtkCellRenderer *cell, GtkTreeModel *model,
           GtkTreeIter *iter, gpointer data)
{
  SwItemTable *self = SW_ITEM_TABLE (gtk_tree_view_column_get_tree_view (tree_column));
  g_autofree char *text = text_of (self, (Column)GPOINTER_TO_INT (data), row_of (iter));

  g_object_set (cell, "text", text != NULL ? text : "", NULL);
}

static void
fill_icon (GtkTreeViewColumn *tree_column, GtkCellRenderer *cell, GtkTreeModel *model,
           GtkTreeIter *iter, gpointer data)
{
  SwItemTable *self = SW_ITEM_TABLE (gtk_tree_view_column_get_tree_view (tree_column));

  const SwItem *item = item_at (self, row_of (iter));

  sw_icon_cell_set_icon (SW_ICON_CELL (cell), item != NULL ? sw_state_icon (item->state) : NULL);
}

/* The same head again turns the order round. */
static void
on_head (GtkTreeViewColumn *tree_column, SwItemTable *self)
{
  for (int i = 0; i < N_COLUMNS; i++)
    if (self->columns[i] == tree_column)
      g_signal_emit (self, signals[ORDER], 0, (int)columns[i].order,
                     self->order == columns[i].order && !self->descending);
}

static void
on_selection (GtkTreeSelection *selection, SwItemTable *self)
{
  if (!self->filling)
    g_signal_emit (self, signals[CHOSEN], 0);
}

static void
add_column (SwItemTable *self, int i)
{
  GtkTreeViewColumn *column = gtk_tree_view_column_new ();
  GtkCellRenderer *cell = sw_text_cell_new ();

  if (i == COLUMN_STATE)
    {
      GtkCellRenderer *icon = sw_icon_cell_new ();
      gtk_tree_view_column_pack_start (column, icon, FALSE);
      gtk_tree_view_column_set_cell_data_func (column, icon, fill_icon, NULL, NULL);
    }
  gtk_tree_view_column_set_title (column, _ (columns[i].title));
  gtk_tree_view_column_pack_start (column, cell, TRUE);
  gtk_tree_view_column_set_cell_data_func (column, cell, fill_cell, GINT_TO_POINTER (i), NULL);
  g_object_set (cell, "ellipsize", PANGO_ELLIPSIZE_END, "xalign", columns[i].right ? 1.0 : 0.0,
                "xpad", CELL_PAD, NULL);
  gtk_tree_view_column_set_alignment (column, columns[i].right ? 1.0f : 0.0f);
  gtk_tree_view_column_set_sizing (column, GTK_TREE_VIEW_COLUMN_FIXED);
  gtk_tree_view_column_set_resizable (column, TRUE);
  gtk_tree_view_column_set_expand (column, i == COLUMN_NAME || i == COLUMN_PLACE);
  if (columns[i].order != SW_N_ITEM_ORDERS)
    {
      gtk_tree_view_column_set_clickable (column, TRUE);
      g_signal_connect (column, "clicked", G_CALLBACK (on_head), self);
    }
  gtk_tree_view_append_column (GTK_TREE_VIEW (self), column);
  self->columns[i] = column;
}

/* What the longest word for a state takes beside its symbol. */
static int
state_width (GtkWidget *widget)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, NULL);
  int width = 0;

  for (int state = 0; state < SW_N_STATES; state++)
    {
      int word;

      pango_layout_set_text (layout, _ (sw_state_word ((SwState)state)), -1);
      pango_layout_get_pixel_size (layout, &word, NULL);
      width = MAX (width, word);
    }
  return width + SW_ICON_SIDE + 2 * CELL_PAD + ICON_PAD;
}

static void
sw_item_table_style_updated (GtkWidget *widget)
{
  SwItemTable *self = SW_ITEM_TABLE (widget);
  double letters = sw_widget_text_scale (widget);

  GTK_WIDGET_CLASS (sw_item_table_parent_class)->style_updated (widget);
  for (int i = 0; i < N_COLUMNS; i++)
    gtk_tree_view_column_set_fixed_width (self->columns[i], columns[i].width != 0
                                                                ? (int)(columns[i].width * letters)
                                                                : state_width (widget));
}

/* Those that were chosen, wherever they stand now. */
static void
choose_again (SwItemTable *self)
{
  GtkTreeSelection *selection = gtk_tree_view_get_selection (GTK_TREE_VIEW (self));
  g_autoptr (GHashTable) chosen = g_hash_table_new (g_int64_hash, g_int64_equal);
  guint rows = MIN (self->model->rows, length_of (self->model));
  gint64 number;

  self->filling = TRUE;
  gtk_tree_selection_unselect_all (selection);
  for (guint j = 0; j < self->chosen->len; j++)
    g_hash_table_add (chosen, &g_array_index (self->chosen, gint64, j));
  for (guint i = 0; i < rows && self->chosen->len > 0; i++)
    if (number = sw_item_list_number (self->model->list, i),
        g_hash_table_contains (chosen, &number))
      {
        g_autoptr (GtkTreePath) path = gtk_tree_path_new_from_indices ((int)i, -1);
        gtk_tree_selection_select_path (selection, path);
      }
  self->filling = FALSE;
}

/* ---- rows that come and go ---- */

/* A turn's work; a frame at 60 a second is 16 ms. */
#define TURN_US 5000

static gint64
thread_us (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return (gint64)now.tv_sec * G_USEC_PER_SEC + now.tv_nsec / 1000;
}

static gboolean
grow (gpointer data)
{
  SwItemTable *self = data;
  gint64 begun = thread_us ();

  self->filling = TRUE;
  while (self->model->rows != length_of (self->model))
    {
      step_towards (self->model);
      if (thread_us () - begun > TURN_US)
        break;
    }
  self->filling = FALSE;
  if (self->model->rows != length_of (self->model))
    return G_SOURCE_CONTINUE;
  self->growing = 0;
  choose_again (self);
  g_signal_emit (self, signals[CHOSEN], 0);
  return G_SOURCE_REMOVE;
}

/* The rows in view say something else now. */
static void
tell_visible (SwItemTable *self)
{
  GtkTreePath *first = NULL, *last = NULL;

  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (!gtk_tree_view_get_visible_range (GTK_TREE_VIEW (self), &first, &last))
    return;
  for (; gtk_tree_path_compare (first, last) <= 0; gtk_tree_path_next (first))
    {
      GtkTreeIter iter;
      if (set_row (GTK_TREE_MODEL (self->model), &iter,
                   (guint)gtk_tree_path_get_indices (first)[0]))
        gtk_tree_model_row_changed (GTK_TREE_MODEL (self->model), first, &iter);
    }
  gtk_tree_path_free (first);
  gtk_tree_path_free (last);
}

void
sw_item_table_show (SwItemTable *self, SwStore *store, SwItemList *list, SwItemOrder order,
                    gboolean descending)
{
  gboolean other_order = self->order != order || self->descending != descending;

  if (self->growing == 0)
    {
      g_array_unref (self->chosen);
      self->chosen = sw_item_table_chosen (self);
    }
  g_set_object (&self->store, store);
  sw_item_list_ref (list);
  g_clear_pointer (&self->model->list, sw_item_list_unref);
  self->model->list = list;
  self->order = order;
  self->descending = descending;
  for (int i = 0; i < N_COLUMNS; i++)
    {
      gtk_tree_view_column_set_sort_indicator (self->columns[i], columns[i].order == order);
      gtk_tree_view_column_set_sort_order (self->columns[i],
                                           descending ? GTK_SORT_DESCENDING : GTK_SORT_ASCENDING);
    }
  tell_visible (self);
  if (other_order && gtk_widget_get_realized (GTK_WIDGET (self)))
    gtk_tree_view_scroll_to_point (GTK_TREE_VIEW (self), -1, 0);
  choose_again (self);
  if (self->growing == 0 && self->model->rows != length_of (self->model))
    self->growing = g_idle_add_full (GDK_PRIORITY_REDRAW + 10, grow, self, NULL);
  g_signal_emit (self, signals[CHOSEN], 0);
}

void
sw_item_table_told (SwItemTable *self, guint first, guint n)
{
  for (guint i = first; i < MIN (first + n, self->model->rows); i++)
    {
      g_autoptr (GtkTreePath) path = gtk_tree_path_new_from_indices ((int)i, -1);
      GtkTreeIter iter;

      set_row (GTK_TREE_MODEL (self->model), &iter, i);
      gtk_tree_model_row_changed (GTK_TREE_MODEL (self->model), path, &iter);
    }
}

GArray *
sw_item_table_chosen (SwItemTable *self)
{
  GArray *chosen = g_array_new (FALSE, FALSE, sizeof (gint64));
  GList *rows;

  rows = gtk_tree_selection_get_selected_rows (gtk_tree_view_get_selection (GTK_TREE_VIEW (self)),
                                               NULL);
  for (GList *l = rows; l != NULL; l = l->next)
    {
      gint64 item = sw_item_table_item_at (self, l->data);
      if (item != 0)
        g_array_append_val (chosen, item);
    }
  g_list_free_full (rows, (GDestroyNotify)gtk_tree_path_free);
  return chosen;
}

gint64
sw_item_table_item_at (SwItemTable *self, GtkTreePath *path)
{
  guint i = (guint)gtk_tree_path_get_indices (path)[0];

  return i < length_of (self->model) ? sw_item_list_number (self->model->list, i) : 0;
}

static void
sw_item_table_dispose (GObject *object)
{
  SwItemTable *self = SW_ITEM_TABLE (object);

  self->filling = TRUE;
  g_clear_handle_id (&self->growing, g_source_remove);
  gtk_tree_view_set_model (GTK_TREE_VIEW (self), NULL);
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_item_table_parent_class)->dispose (object);
}

static void
sw_item_table_finalize (GObject *object)
{
  g_object_unref (SW_ITEM_TABLE (object)->model);
  g_array_unref (SW_ITEM_TABLE (object)->chosen);
  G_OBJECT_CLASS (sw_item_table_parent_class)->finalize (object);
}

static void
sw_item_table_class_init (SwItemTableClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_item_table_dispose;
  G_OBJECT_CLASS (klass)->finalize = sw_item_table_finalize;
  GTK_WIDGET_CLASS (klass)->style_updated = sw_item_table_style_updated;
  signals[CHOSEN] = g_signal_new ("chosen", SW_TYPE_ITEM_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
  signals[ORDER] = g_signal_new ("order", SW_TYPE_ITEM_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 2, G_TYPE_INT, G_TYPE_BOOLEAN);
}

static void
sw_item_table_init (SwItemTable *self)
{
  GtkTreeView *view = GTK_TREE_VIEW (self);
  GtkTreeSelection *selection = gtk_tree_view_get_selection (view);

  for (int i = 0; i < N_COLUMNS; i++)
    add_column (self, i);
  self->chosen = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->model = g_object_new (SW_TYPE_ITEM_MODEL, NULL);
  gtk_tree_view_set_fixed_height_mode (view, TRUE);
  gtk_tree_view_set_model (view, GTK_TREE_MODEL (self->model));
  gtk_tree_view_set_enable_search (view, FALSE);
  gtk_tree_selection_set_mode (selection, GTK_SELECTION_MULTIPLE);
  gtk_style_context_add_class (gtk_widget_get_style_context (GTK_WIDGET (self)), "sw-takings");
  atk_object_set_name (gtk_widget_get_accessible (GTK_WIDGET (self)), _ ("Table of items"));
  g_signal_connect (selection, "changed", G_CALLBACK (on_selection), self);
}
