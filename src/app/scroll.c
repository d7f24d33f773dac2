/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adjustments of drawn widgets. Draws and measures nothing. */
#include "app/scroll.h"

enum
{
  PROP_0,
  PROP_HADJUSTMENT,
  PROP_VADJUSTMENT,
  PROP_HPOLICY,
  PROP_VPOLICY,
};
G_STATIC_ASSERT (PROP_VPOLICY == SW_SCROLL_PROPERTIES);

void
sw_scroll_install (GObjectClass *klass)
{
  g_object_class_override_property (klass, PROP_HADJUSTMENT, "hadjustment");
  g_object_class_override_property (klass, PROP_VADJUSTMENT, "vadjustment");
  g_object_class_override_property (klass, PROP_HPOLICY, "hscroll-policy");
  g_object_class_override_property (klass, PROP_VPOLICY, "vscroll-policy");
}

void
sw_scroll_init (SwScroll *self, GtkWidget *widget, void (*configure) (GtkWidget *widget))
{
  self->widget = widget;
  self->configure = configure;
}

static void
drop (SwScroll *self, int which)
{
  if (self->adjustments[which] != NULL)
    g_signal_handlers_disconnect_by_data (self->adjustments[which], self->widget);
  g_clear_object (&self->adjustments[which]);
}

void
sw_scroll_clear (SwScroll *self)
{
  drop (self, 0);
  drop (self, 1);
}

static void
set_adjustment (SwScroll *self, int which, GtkAdjustment *adjustment)
{
  if (adjustment != NULL && adjustment == self->adjustments[which])
    return;
  drop (self, which);
  if (adjustment == NULL)
    adjustment = gtk_adjustment_new (0, 0, 0, 0, 0, 0);
  self->adjustments[which] = g_object_ref_sink (adjustment);
  g_signal_connect_swapped (adjustment, "value-changed", G_CALLBACK (gtk_widget_queue_draw),
                            self->widget);
  self->configure (self->widget);
}

void
sw_scroll_get (SwScroll *self, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_HADJUSTMENT || id == PROP_VADJUSTMENT)
    g_value_set_object (value, self->adjustments[id - PROP_HADJUSTMENT]);
  else if (id == PROP_HPOLICY || id == PROP_VPOLICY)
    g_value_set_enum (value, (int)self->policies[id - PROP_HPOLICY]);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (self->widget, id, pspec);
}

void
sw_scroll_set (SwScroll *self, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_HADJUSTMENT || id == PROP_VADJUSTMENT)
    set_adjustment (self, (int)id - PROP_HADJUSTMENT, g_value_get_object (value));
  else if (id == PROP_HPOLICY || id == PROP_VPOLICY)
    self->policies[id - PROP_HPOLICY] = (guint)g_value_get_enum (value);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (self->widget, id, pspec);
}

double
sw_scroll_value (const SwScroll *self, int which)
{
  return self->adjustments[which] != NULL ? gtk_adjustment_get_value (self->adjustments[which]) : 0;
}

void
sw_scroll_range (SwScroll *self, int which, double content, double step)
{
  double view = which == 0 ? gtk_widget_get_allocated_width (self->widget)
                           : gtk_widget_get_allocated_height (self->widget);
  double upper = MAX (content, view);

  if (self->adjustments[which] != NULL)
    gtk_adjustment_configure (self->adjustments[which],
                              CLAMP (sw_scroll_value (self, which), 0, upper - view), 0, upper,
                              step, view * 0.9, view);
}
