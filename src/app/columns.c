/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decides at each allocation which columns are seen. A plain container: knows nothing of what is in
 * its columns. */
#include "app/columns.h"

#include "app/widgets.h"

#define MAX_COLUMNS 4
#define LINE 1 /* px between columns */

typedef struct
{
  GtkWidget *widget;
  int least, share;
  gboolean seen;
} Column;

struct _SwColumns
{
  GtkContainer parent;
  Column columns[MAX_COLUMNS];
  guint focus_idle;
  guint n, depth, first, last; /* columns first .. last-1 are seen */
};

enum
{
  PROP_0,
  PROP_CAN_GO_BACK,
  N_PROPS
};
static GParamSpec *props[N_PROPS];

G_DEFINE_TYPE (SwColumns, sw_columns, GTK_TYPE_CONTAINER)

/* What was asked for, with room for larger letters, or what its own text needs. */
static int
least_width (SwColumns *self, guint i)
{
  double letters = sw_widget_text_scale (GTK_WIDGET (self));
  int least;

  gtk_widget_get_preferred_width (self->columns[i].widget, &least, NULL);
  return MAX (least, (int)(self->columns[i].least * letters));
}

/* The columns first .. last-1 are seen: the deepest opened one, as many before it as fit, then
 * deeper ones. */
static guint
first_that_fits (SwColumns *self, int width, guint *out_last)
{
  guint first = self->depth;
  int used = 0;

  while (first > 0)
    {
      int least = least_width (self, first - 1);
      if (first < self->depth && used + LINE + least > width)
        break;
      used += least + (first < self->depth ? LINE : 0);
      first--;
    }
  *out_last = self->depth;
  while (*out_last < self->n && used + LINE + least_width (self, *out_last) <= width)
    {
      used += LINE + least_width (self, *out_last);
      (*out_last)++;
    }
  return first;
}

/* Where the focus was in a column that folded away, it goes to the deepest one. */
static gboolean
rescue_focus (gpointer data)
{
  SwColumns *self = data;
  GtkWidget *window = gtk_widget_get_toplevel (GTK_WIDGET (self));
  GtkWidget *focus = GTK_IS_WINDOW (window) ? gtk_window_get_focus (GTK_WINDOW (window)) : NULL;

  self->focus_idle = 0;
  if (gtk_widget_get_mapped (GTK_WIDGET (self))
      && (focus == NULL || !gtk_widget_get_mapped (focus)))
    gtk_widget_child_focus (self->columns[self->depth - 1].widget, GTK_DIR_TAB_FORWARD);
  return G_SOURCE_REMOVE;
}

static void
sw_columns_dispose (GObject *object)
{
  g_clear_handle_id (&SW_COLUMNS (object)->focus_idle, g_source_remove);
  G_OBJECT_CLASS (sw_columns_parent_class)->dispose (object);
}

static void
sw_columns_size_allocate (GtkWidget *widget, GtkAllocation *allocation)
{
  SwColumns *self = SW_COLUMNS (widget);
  guint last, first = first_that_fits (self, allocation->width, &last);
  gboolean changed = first != self->first;
  int rest = allocation->width, shares = 0, x = allocation->x;

  gtk_widget_set_allocation (widget, allocation);
  for (guint i = first; i < last; i++)
    {
      rest -= least_width (self, i) + (i > first ? LINE : 0);
      shares += self->columns[i].share;
    }
  for (guint i = 0; i < self->n; i++)
    {
      Column *column = &self->columns[i];
      GtkAllocation at = { x, allocation->y, least_width (self, i), allocation->height };
      column->seen = i >= first && i < last;
      gtk_widget_set_child_visible (column->widget, column->seen);
      if (!column->seen)
        continue;
      if (i == last - 1)
        at.width = allocation->x + allocation->width - x;
      else if (rest > 0 && shares > 0)
        at.width += rest * column->share / shares;
      at.width = MAX (1, at.width);
      x += at.width + LINE;
      if (gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL)
        at.x = 2 * allocation->x + allocation->width - at.x - at.width;
      gtk_widget_size_allocate (column->widget, &at);
    }
  self->first = first;
  self->last = last;
  if (changed && self->focus_idle == 0)
    self->focus_idle = g_idle_add (rescue_focus, self);
  if (changed)
    g_object_notify_by_pspec (G_OBJECT (self), props[PROP_CAN_GO_BACK]);
}

static void
sw_columns_preferred_width (GtkWidget *widget, int *minimum, int *natural)
{
  SwColumns *self = SW_COLUMNS (widget);

  *minimum = *natural = 0;
  for (guint i = 0; i < self->n; i++)
    {
      int least, wish;
      gtk_widget_get_preferred_width (self->columns[i].widget, &least, &wish);
      *minimum = MAX (*minimum, least);
      *natural += i < self->depth ? MAX (self->columns[i].least, least) : 0;
    }
  *natural = MAX (*natural, *minimum);
}

static void
sw_columns_preferred_height (GtkWidget *widget, int *minimum, int *natural)
{
  SwColumns *self = SW_COLUMNS (widget);

  *minimum = 0;
  for (guint i = 0; i < self->n; i++)
    {
      int least;
      gtk_widget_get_preferred_height (self->columns[i].widget, &least, NULL);
      *minimum = MAX (*minimum, least);
    }
  *natural = *minimum; /* takes what is left over; what folds out below gets its wish first */
}

static gboolean
sw_columns_draw (GtkWidget *widget, cairo_t *cr)
{
  SwColumns *self = SW_COLUMNS (widget);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  GtkAllocation at, own;

  gtk_widget_get_allocation (widget, &own);
  gtk_style_context_save (style);
  gtk_style_context_add_class (style, "sw-line");
  for (guint i = self->first + 1; i < self->last; i++)
    {
      gtk_widget_get_allocation (self->columns[i].widget, &at);
      gtk_render_background (style, cr,
                             gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL
                                 ? at.x - own.x + at.width
                                 : at.x - own.x - LINE,
                             0, LINE, own.height);
    }
  gtk_style_context_restore (style);
  return GTK_WIDGET_CLASS (sw_columns_parent_class)->draw (widget, cr);
}

static void
sw_columns_add (GtkContainer *container, GtkWidget *child)
{
  SwColumns *self = SW_COLUMNS (container);

  g_return_if_fail (self->n < MAX_COLUMNS);
  self->columns[self->n] = (Column){ .widget = child, .least = 320, .share = 1 };
  self->n++;
  gtk_widget_set_parent (child, GTK_WIDGET (self));
}

static void
sw_columns_remove (GtkContainer *container, GtkWidget *child)
{
  SwColumns *self = SW_COLUMNS (container);

  for (guint i = 0; i < self->n; i++)
    if (self->columns[i].widget == child)
      {
        gtk_widget_unparent (child);
        memmove (&self->columns[i], &self->columns[i + 1], (self->n - i - 1) * sizeof (Column));
        self->n--;
        self->depth = MIN (self->depth, self->n);
        return;
      }
}

static void
sw_columns_forall (GtkContainer *container, gboolean internals, GtkCallback callback, gpointer data)
{
  SwColumns *self = SW_COLUMNS (container);

  GtkWidget *widgets[MAX_COLUMNS];
  guint n = self->n;

  /* a copy: the callback may remove the child */
  for (guint i = 0; i < n; i++)
    widgets[i] = self->columns[i].widget;
  for (guint i = 0; i < n; i++)
    callback (widgets[i], data);
}

static GType
sw_columns_child_type (GtkContainer *container)
{
  return GTK_TYPE_WIDGET;
}

static void
sw_columns_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_CAN_GO_BACK)
    g_value_set_boolean (value, sw_columns_get_can_go_back (SW_COLUMNS (object)));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
sw_columns_class_init (SwColumnsClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  GtkContainerClass *container = GTK_CONTAINER_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_columns_dispose;
  G_OBJECT_CLASS (klass)->get_property = sw_columns_get_property;
  widget->size_allocate = sw_columns_size_allocate;
  widget->get_preferred_width = sw_columns_preferred_width;
  widget->get_preferred_height = sw_columns_preferred_height;
  widget->draw = sw_columns_draw;
  container->add = sw_columns_add;
  container->remove = sw_columns_remove;
  container->forall = sw_columns_forall;
  container->child_type = sw_columns_child_type;
  props[PROP_CAN_GO_BACK]
      = g_param_spec_boolean ("can-go-back", NULL, NULL, FALSE,
                              G_PARAM_READABLE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, props);
  gtk_widget_class_set_css_name (widget, "columns");
}

static void
sw_columns_init (SwColumns *self)
{
  gtk_widget_set_has_window (GTK_WIDGET (self), FALSE);
  self->depth = 1;
}


void
sw_columns_set_share (SwColumns *self, guint i, int least_width, int share)
{
  g_return_if_fail (i < self->n);
  self->columns[i].least = least_width;
  self->columns[i].share = share;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

void
sw_columns_set_depth (SwColumns *self, guint depth)
{
  depth = CLAMP (depth, 1, MAX (1, self->n));
  if (depth == self->depth)
    return;
  self->depth = depth;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

guint
sw_columns_get_depth (SwColumns *self)
{
  return self->depth;
}

gboolean
sw_columns_get_can_go_back (SwColumns *self)
{
  return self->first > 0;
}

void
sw_columns_go_back (SwColumns *self)
{
  if (self->first > 0)
    sw_columns_set_depth (self, self->depth - 1);
}
