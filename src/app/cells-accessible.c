/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A drawn widget is mute without this: role LIST with children LIST_ITEM that are made when a
 * reader asks and kept while it holds them. MANAGES_DESCENDANTS keeps readers from asking for
 * thousands of children. Knows nothing of what the cells mean: it asks SwCells. */
#include "app/cells-accessible.h"

/* ---- one cell ---- */

struct _SwCellAccessible
{
  AtkObject parent;
  GtkWidget *widget; /* weak; NULL when the cell or its widget is gone */
  int i;
  guint activate_idle;
};

static void cell_component_init (AtkComponentIface *iface);
static void cell_action_init (AtkActionIface *iface);

G_DEFINE_TYPE_WITH_CODE (SwCellAccessible, sw_cell_accessible, ATK_TYPE_OBJECT,
                         G_IMPLEMENT_INTERFACE (ATK_TYPE_COMPONENT, cell_component_init)
                             G_IMPLEMENT_INTERFACE (ATK_TYPE_ACTION, cell_action_init))

static gboolean
cell_alive (SwCellAccessible *self)
{
  return self->widget != NULL && self->i < sw_cells_count (SW_CELLS (self->widget));
}

static void
cell_set_widget (SwCellAccessible *self, GtkWidget *widget)
{
  g_set_weak_pointer (&self->widget, widget);
}

static const char *
cell_get_name (AtkObject *object)
{
  SwCellAccessible *self = SW_CELL_ACCESSIBLE (object);
  g_autofree char *name = NULL;

  if (!cell_alive (self))
    return ATK_OBJECT_CLASS (sw_cell_accessible_parent_class)->get_name (object);
  name = sw_cells_name (SW_CELLS (self->widget), self->i);
  if (g_strcmp0 (object->name, name) != 0)
    {
      g_free (object->name);
      object->name = g_steal_pointer (&name);
    }
  return object->name;
}

static AtkObject *
cell_get_parent (AtkObject *object)
{
  SwCellAccessible *self = SW_CELL_ACCESSIBLE (object);
  return self->widget != NULL ? gtk_widget_get_accessible (self->widget) : NULL;
}

static int
cell_get_index (AtkObject *object)
{
  return SW_CELL_ACCESSIBLE (object)->i;
}

/* The window's visible part is cut by what the widget is scrolled in, where it does not scroll by
 * itself. */
static gboolean
cell_in_view (SwCellAccessible *self)
{
  GdkWindow *window = gtk_widget_get_window (self->widget);
  cairo_region_t *visible = window != NULL ? gdk_window_get_visible_region (window) : NULL;
  GdkRectangle area;
  gboolean seen;

  if (visible == NULL)
    return FALSE;
  sw_cells_extents (SW_CELLS (self->widget), self->i, &area);
  seen = cairo_region_contains_rectangle (visible, &area) != CAIRO_REGION_OVERLAP_OUT;
  cairo_region_destroy (visible);
  return seen;
}

static AtkStateSet *
cell_ref_states (AtkObject *object)
{
  SwCellAccessible *self = SW_CELL_ACCESSIBLE (object);
  AtkStateSet *states = atk_state_set_new ();
  gboolean chosen;

  if (!cell_alive (self))
    {
      atk_state_set_add_state (states, ATK_STATE_DEFUNCT);
      return states;
    }
  atk_state_set_add_state (states, ATK_STATE_SELECTABLE);
  atk_state_set_add_state (states, ATK_STATE_FOCUSABLE);
  atk_state_set_add_state (states, ATK_STATE_ENABLED);
  atk_state_set_add_state (states, ATK_STATE_SENSITIVE);
  atk_state_set_add_state (states, ATK_STATE_TRANSIENT);
  atk_state_set_add_state (states, ATK_STATE_VISIBLE);
  if (gtk_widget_get_mapped (self->widget) && cell_in_view (self))
    atk_state_set_add_state (states, ATK_STATE_SHOWING);
  chosen = sw_cells_selected (SW_CELLS (self->widget)) == self->i;
  if (chosen)
    atk_state_set_add_state (states, ATK_STATE_SELECTED);
  if (chosen && gtk_widget_has_focus (self->widget))
    {
      atk_state_set_add_state (states, ATK_STATE_ACTIVE);
      atk_state_set_add_state (states, ATK_STATE_FOCUSED);
    }
  return states;
}

static void
cell_finalize (GObject *object)
{
  SwCellAccessible *self = SW_CELL_ACCESSIBLE (object);

  g_clear_handle_id (&self->activate_idle, g_source_remove);
  g_clear_weak_pointer (&self->widget);
  G_OBJECT_CLASS (sw_cell_accessible_parent_class)->finalize (object);
}

static void
sw_cell_accessible_class_init (SwCellAccessibleClass *klass)
{
  AtkObjectClass *atk = ATK_OBJECT_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = cell_finalize;
  atk->get_name = cell_get_name;
  atk->get_parent = cell_get_parent;
  atk->get_index_in_parent = cell_get_index;
  atk->ref_state_set = cell_ref_states;
}

static void
sw_cell_accessible_init (SwCellAccessible *self)
{
  atk_object_set_role (ATK_OBJECT (self), ATK_ROLE_LIST_ITEM);
}

static void
cell_get_extents (AtkComponent *component, int *x, int *y, int *width, int *height,
                  AtkCoordType type)
{
  SwCellAccessible *self = SW_CELL_ACCESSIBLE (component);
  GdkRectangle area = { 0, 0, 0, 0 };
  int origin_x = 0, origin_y = 0;

  if (cell_alive (self))
    {
      AtkObject *parent = gtk_widget_get_accessible (self->widget);
      sw_cells_extents (SW_CELLS (self->widget), self->i, &area);
      atk_component_get_extents (ATK_COMPONENT (parent), &origin_x, &origin_y, NULL, NULL, type);
    }
  *x = origin_x + area.x;
  *y = origin_y + area.y;
  *width = area.width;
  *height = area.height;
}

static gboolean
cell_grab_focus (AtkComponent *component)
{
  SwCellAccessible *self = SW_CELL_ACCESSIBLE (component);

  if (!cell_alive (self))
    return FALSE;
  gtk_widget_grab_focus (self->widget);
  sw_cells_select (SW_CELLS (self->widget), self->i);
  return TRUE;
}

static void
cell_component_init (AtkComponentIface *iface)
{
  iface->get_extents = cell_get_extents;
  iface->grab_focus = cell_grab_focus;
}

static gboolean
cell_activate_now (gpointer data)
{
  SwCellAccessible *self = data;

  self->activate_idle = 0;
  if (cell_alive (self))
    sw_cells_activate (SW_CELLS (self->widget), self->i);
  return G_SOURCE_REMOVE;
}

/* From idle: the reader's call must return before a page is built. */
static gboolean
cell_do_action (AtkAction *action, int i)
{
  SwCellAccessible *self = SW_CELL_ACCESSIBLE (action);

  if (i != 0 || !cell_alive (self) || self->activate_idle != 0)
    return FALSE;
  self->activate_idle = g_idle_add (cell_activate_now, self);
  return TRUE;
}

static int
cell_n_actions (AtkAction *action)
{
  return 1;
}

static const char *
cell_action_name (AtkAction *action, int i)
{
  return i == 0 ? "activate" : NULL;
}

static void
cell_action_init (AtkActionIface *iface)
{
  iface->do_action = cell_do_action;
  iface->get_n_actions = cell_n_actions;
  iface->get_name = cell_action_name;
}

/* ---- the widget ---- */

struct _SwCellsAccessible
{
  GtkWidgetAccessible parent;
  GHashTable *children; /* index -> SwCellAccessible */
};

static void cells_component_init (AtkComponentIface *iface);
static void cells_selection_init (AtkSelectionIface *iface);

G_DEFINE_TYPE_WITH_CODE (SwCellsAccessible, sw_cells_accessible, GTK_TYPE_WIDGET_ACCESSIBLE,
                         G_IMPLEMENT_INTERFACE (ATK_TYPE_COMPONENT, cells_component_init)
                             G_IMPLEMENT_INTERFACE (ATK_TYPE_SELECTION, cells_selection_init))

/* Readers keep few at a time; past this the cache is emptied of those that nobody else holds. */
#define KEEP_AT_MOST 256

static gboolean
only_ours (gpointer key, gpointer value, gpointer data)
{
  return G_OBJECT (value)->ref_count == 1;
}

static AtkObject *
cells_ref_child (AtkObject *object, int i)
{
  SwCellsAccessible *self = SW_CELLS_ACCESSIBLE (object);
  GtkWidget *widget = gtk_accessible_get_widget (GTK_ACCESSIBLE (self));
  SwCellAccessible *child;

  if (widget == NULL || i < 0 || i >= sw_cells_count (SW_CELLS (widget)))
    return NULL;
  child = g_hash_table_lookup (self->children, GINT_TO_POINTER (i));
  if (child == NULL)
    {
      if (g_hash_table_size (self->children) >= KEEP_AT_MOST)
        g_hash_table_foreach_remove (self->children, only_ours, NULL);
      child = g_object_new (SW_TYPE_CELL_ACCESSIBLE, NULL);
      child->i = i;
      cell_set_widget (child, widget);
      g_hash_table_insert (self->children, GINT_TO_POINTER (i), child);
    }
  return ATK_OBJECT (g_object_ref (child));
}

static int
cells_n_children (AtkObject *object)
{
  GtkWidget *widget = gtk_accessible_get_widget (GTK_ACCESSIBLE (object));
  return widget != NULL ? sw_cells_count (SW_CELLS (widget)) : 0;
}

static AtkStateSet *
cells_ref_states (AtkObject *object)
{
  AtkStateSet *states = ATK_OBJECT_CLASS (sw_cells_accessible_parent_class)->ref_state_set (object);

  atk_state_set_add_state (states, ATK_STATE_MANAGES_DESCENDANTS);
  return states;
}

static void
cells_initialize (AtkObject *object, gpointer data)
{
  ATK_OBJECT_CLASS (sw_cells_accessible_parent_class)->initialize (object, data);
  object->role = ATK_ROLE_LIST;
}

static void
cells_finalize (GObject *object)
{
  g_clear_pointer (&SW_CELLS_ACCESSIBLE (object)->children, g_hash_table_unref);
  G_OBJECT_CLASS (sw_cells_accessible_parent_class)->finalize (object);
}

static void
sw_cells_accessible_class_init (SwCellsAccessibleClass *klass)
{
  AtkObjectClass *atk = ATK_OBJECT_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = cells_finalize;
  atk->initialize = cells_initialize;
  atk->get_n_children = cells_n_children;
  atk->ref_child = cells_ref_child;
  atk->ref_state_set = cells_ref_states;
}

static void
sw_cells_accessible_init (SwCellsAccessible *self)
{
  self->children = g_hash_table_new_full (NULL, NULL, NULL, g_object_unref);
}

static AtkObject *
cells_at_point (AtkComponent *component, int x, int y, AtkCoordType type)
{
  GtkWidget *widget = gtk_accessible_get_widget (GTK_ACCESSIBLE (component));
  int origin_x, origin_y;

  if (widget == NULL)
    return NULL;
  atk_component_get_extents (component, &origin_x, &origin_y, NULL, NULL, type);
  return cells_ref_child (ATK_OBJECT (component),
                          sw_cells_at (SW_CELLS (widget), x - origin_x, y - origin_y));
}

static void
cells_component_init (AtkComponentIface *iface)
{
  /* the rest is the parent's: GObject copies its table when an interface is implemented anew */
  iface->ref_accessible_at_point = cells_at_point;
}

static gboolean
cells_add_selection (AtkSelection *selection, int i)
{
  GtkWidget *widget = gtk_accessible_get_widget (GTK_ACCESSIBLE (selection));

  if (widget == NULL || i < 0 || i >= sw_cells_count (SW_CELLS (widget)))
    return FALSE;
  sw_cells_select (SW_CELLS (widget), i);
  return TRUE;
}

static gboolean
cells_clear_selection (AtkSelection *selection)
{
  GtkWidget *widget = gtk_accessible_get_widget (GTK_ACCESSIBLE (selection));

  if (widget == NULL)
    return FALSE;
  sw_cells_select (SW_CELLS (widget), -1);
  return TRUE;
}

static AtkObject *
cells_ref_selection (AtkSelection *selection, int i)
{
  GtkWidget *widget = gtk_accessible_get_widget (GTK_ACCESSIBLE (selection));

  if (widget == NULL || i != 0)
    return NULL;
  return cells_ref_child (ATK_OBJECT (selection), sw_cells_selected (SW_CELLS (widget)));
}

static int
cells_n_selected (AtkSelection *selection)
{
  GtkWidget *widget = gtk_accessible_get_widget (GTK_ACCESSIBLE (selection));
  return widget != NULL && sw_cells_selected (SW_CELLS (widget)) >= 0;
}

static gboolean
cells_is_selected (AtkSelection *selection, int i)
{
  GtkWidget *widget = gtk_accessible_get_widget (GTK_ACCESSIBLE (selection));
  return widget != NULL && i >= 0 && sw_cells_selected (SW_CELLS (widget)) == i;
}

static void
cells_selection_init (AtkSelectionIface *iface)
{
  iface->add_selection = cells_add_selection;
  iface->clear_selection = cells_clear_selection;
  iface->ref_selection = cells_ref_selection;
  iface->get_selection_count = cells_n_selected;
  iface->is_child_selected = cells_is_selected;
}

/* ---- called by the widget ---- */

void
sw_cells_accessible_reset (GtkWidget *widget)
{
  SwCellsAccessible *self = SW_CELLS_ACCESSIBLE (gtk_widget_get_accessible (widget));
  GHashTableIter iter;
  gpointer child;

  g_hash_table_iter_init (&iter, self->children);
  while (g_hash_table_iter_next (&iter, NULL, &child))
    {
      cell_set_widget (child, NULL);
      atk_object_notify_state_change (child, ATK_STATE_DEFUNCT, TRUE);
    }
  g_hash_table_remove_all (self->children);
  g_signal_emit_by_name (self, "children-changed", (guint)-1, NULL, NULL);
}

void
sw_cells_accessible_told (GtkWidget *widget, int first, int n)
{
  SwCellsAccessible *self = SW_CELLS_ACCESSIBLE (gtk_widget_get_accessible (widget));

  for (int i = first; i < first + n; i++)
    {
      AtkObject *child = g_hash_table_lookup (self->children, GINT_TO_POINTER (i));
      if (child != NULL)
        g_object_notify (G_OBJECT (child), "accessible-name");
    }
}

void
sw_cells_accessible_selected (GtkWidget *widget)
{
  AtkObject *self = gtk_widget_get_accessible (widget);
  g_autoptr (AtkObject) child = cells_ref_child (self, sw_cells_selected (SW_CELLS (widget)));

  g_signal_emit_by_name (self, "selection-changed");
  if (child == NULL)
    return;
  atk_object_notify_state_change (child, ATK_STATE_SELECTED, TRUE);
  if (!gtk_widget_has_focus (widget))
    return;
  g_signal_emit_by_name (self, "active-descendant-changed", child);
  atk_object_notify_state_change (child, ATK_STATE_FOCUSED, TRUE);
}
