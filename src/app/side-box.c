/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decides by the width given at each allocation, so that nothing is laid out twice. */
#include "app/side-box.h"

#define GAP 14
/* Below this, halves are too narrow for a photo with its strip and for a row of fields. */
#define LEAST_WIDTH 640

struct _SwSideBox
{
  GtkContainer parent;
  GtkWidget *children[2];
  gboolean snug;    /* the left one takes no more than its wish */
  gboolean filling; /* the right one takes no more than its wish, the last all height left */
};

enum
{
  PROP_0,
  PROP_SNUG,
  PROP_FILLING,
};

G_DEFINE_TYPE (SwSideBox, sw_side_box, GTK_TYPE_CONTAINER)

static gboolean
is_seen (GtkWidget *child)
{
  return child != NULL && gtk_widget_get_visible (child);
}

/* Widths of both halves; FALSE: one under the other. The right one gets what it needs first. */
static gboolean
halves (SwSideBox *self, int width, int *out_left, int *out_right)
{
  int least[2], wish[2], left;

  if (!is_seen (self->children[0]) || !is_seen (self->children[1]))
    return FALSE;
  for (int i = 0; i < 2; i++)
    gtk_widget_get_preferred_width (self->children[i], &least[i], &wish[i]);
  if (self->snug ? wish[0] + GAP + wish[1] > width
                 : width < (self->filling ? 0 : LEAST_WIDTH) || least[0] + GAP + least[1] > width)
    return FALSE;
  left = self->snug      ? wish[0]
         : self->filling ? MAX (least[0], width - GAP - wish[1])
                         : CLAMP ((width - GAP) * 9 / 20, least[0], width - GAP - least[1]);
  *out_left = left;
  *out_right = width - GAP - left;
  return TRUE;
}

static GtkSizeRequestMode
sw_side_box_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
sw_side_box_preferred_width (GtkWidget *widget, int *minimum, int *natural)
{
  SwSideBox *self = SW_SIDE_BOX (widget);

  *minimum = *natural = 0;
  for (int i = 0; i < 2; i++)
    if (is_seen (self->children[i]))
      {
        int least, wish;
        gtk_widget_get_preferred_width (self->children[i], &least, &wish);
        *minimum = MAX (*minimum, least);
        *natural += wish + (*natural > 0 ? GAP : 0);
      }
}

static void
sw_side_box_height_for_width (GtkWidget *widget, int width, int *minimum, int *natural)
{
  SwSideBox *self = SW_SIDE_BOX (widget);
  int widths[2] = { width, width };
  gboolean beside = halves (self, width, &widths[0], &widths[1]);

  *minimum = *natural = 0;
  for (int i = 0; i < 2; i++)
    if (is_seen (self->children[i]))
      {
        int least, wish;
        gtk_widget_get_preferred_height_for_width (self->children[i], widths[i], &least, &wish);
        *minimum = beside ? MAX (*minimum, least) : *minimum + least + (*minimum > 0 ? GAP : 0);
        *natural = beside ? MAX (*natural, wish) : *natural + wish + (*natural > 0 ? GAP : 0);
      }
}

static void
sw_side_box_preferred_height (GtkWidget *widget, int *minimum, int *natural)
{
  int width;

  sw_side_box_preferred_width (widget, &width, natural);
  sw_side_box_height_for_width (widget, width, minimum, natural);
}

/* Of the upper one that leaves the rest to the lower: its wish, but no more than half. */
static int
first_height (SwSideBox *self, const GtkAllocation *allocation)
{
  int least, wish;

  gtk_widget_get_preferred_height_for_width (self->children[0], allocation->width, &least, &wish);
  return MAX (least, MIN (wish, (allocation->height - GAP) / 2));
}

static void
sw_side_box_size_allocate (GtkWidget *widget, GtkAllocation *allocation)
{
  SwSideBox *self = SW_SIDE_BOX (widget);
  int widths[2] = { allocation->width, allocation->width };
  gboolean beside = halves (self, allocation->width, &widths[0], &widths[1]);
  gboolean from_right = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  GtkAllocation at = *allocation;

  gtk_widget_set_allocation (widget, allocation);
  for (int i = 0; i < 2; i++)
    {
      if (!is_seen (self->children[i]))
        continue;
      at.width = widths[i];
      if (beside)
        at.x = allocation->x + ((i == 1) != from_right ? allocation->width - widths[i] : 0);
      else if (self->filling && i == 1)
        at.height = MAX (1, allocation->y + allocation->height - at.y);
      else if (self->filling)
        at.height = first_height (self, allocation);
      else
        gtk_widget_get_preferred_height_for_width (self->children[i], at.width, NULL, &at.height);
      gtk_widget_size_allocate (self->children[i], &at);
      if (!beside)
        at.y += at.height + GAP;
    }
}

static void
sw_side_box_add (GtkContainer *container, GtkWidget *child)
{
  SwSideBox *self = SW_SIDE_BOX (container);
  int i = self->children[0] == NULL ? 0 : 1;

  g_return_if_fail (self->children[i] == NULL);
  self->children[i] = child;
  gtk_widget_set_parent (child, GTK_WIDGET (self));
}

static void
sw_side_box_remove (GtkContainer *container, GtkWidget *child)
{
  SwSideBox *self = SW_SIDE_BOX (container);

  for (int i = 0; i < 2; i++)
    if (self->children[i] == child)
      {
        self->children[i] = NULL;
        gtk_widget_unparent (child);
        gtk_widget_queue_resize (GTK_WIDGET (self));
        return;
      }
}

static void
sw_side_box_forall (GtkContainer *container, gboolean internals, GtkCallback callback,
                    gpointer data)
{
  SwSideBox *self = SW_SIDE_BOX (container);
  GtkWidget *children[] = { self->children[0], self->children[1] };

  for (int i = 0; i < 2; i++)
    if (children[i] != NULL)
      callback (children[i], data);
}

static GType
sw_side_box_child_type (GtkContainer *container)
{
  SwSideBox *self = SW_SIDE_BOX (container);
  return self->children[1] == NULL ? GTK_TYPE_WIDGET : G_TYPE_NONE;
}

static void
sw_side_box_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_SNUG)
    SW_SIDE_BOX (object)->snug = g_value_get_boolean (value);
  else if (id == PROP_FILLING)
    SW_SIDE_BOX (object)->filling = g_value_get_boolean (value);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
sw_side_box_class_init (SwSideBoxClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  GtkContainerClass *container = GTK_CONTAINER_CLASS (klass);

  G_OBJECT_CLASS (klass)->set_property = sw_side_box_set_property;
  g_object_class_install_property (
      G_OBJECT_CLASS (klass), PROP_SNUG,
      g_param_spec_boolean ("snug", NULL, NULL, FALSE,
                            G_PARAM_WRITABLE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS));
  g_object_class_install_property (
      G_OBJECT_CLASS (klass), PROP_FILLING,
      g_param_spec_boolean ("filling", NULL, NULL, FALSE,
                            G_PARAM_WRITABLE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS));
  widget->get_request_mode = sw_side_box_request_mode;
  widget->get_preferred_width = sw_side_box_preferred_width;
  widget->get_preferred_height = sw_side_box_preferred_height;
  widget->get_preferred_height_for_width = sw_side_box_height_for_width;
  widget->size_allocate = sw_side_box_size_allocate;
  container->add = sw_side_box_add;
  container->remove = sw_side_box_remove;
  container->forall = sw_side_box_forall;
  container->child_type = sw_side_box_child_type;
  gtk_widget_class_set_accessible_role (widget, ATK_ROLE_FILLER);
}

static void
sw_side_box_init (SwSideBox *self)
{
  gtk_widget_set_has_window (GTK_WIDGET (self), FALSE);
}

