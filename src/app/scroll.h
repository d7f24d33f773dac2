/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What GtkScrollable asks of a drawn widget: two adjustments and two policies, kept for it. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct
{
  GtkWidget *widget;
  void (*configure) (GtkWidget *widget); /* sets both adjustments' ranges */
  GtkAdjustment *adjustments[2];         /* horizontal, vertical; NULL before they are set */
  guint policies[2];
} SwScroll;

/* The numbers of the four properties in the widget's class; its own begin after them. */
#define SW_SCROLL_PROPERTIES 4
void sw_scroll_install (GObjectClass *klass);

void sw_scroll_init (SwScroll *self, GtkWidget *widget, void (*configure) (GtkWidget *widget));
void sw_scroll_clear (SwScroll *self);
/* For the widget's get_property and set_property. */
void sw_scroll_get (SwScroll *self, guint id, GValue *value, GParamSpec *pspec);
void sw_scroll_set (SwScroll *self, guint id, const GValue *value, GParamSpec *pspec);

/* 0 horizontal, 1 vertical. */
double sw_scroll_value (const SwScroll *self, int which);
/* A range of content behind a view of that many pixels; the value is kept where it fits. */
void sw_scroll_range (SwScroll *self, int which, double content, double step);

G_END_DECLS
