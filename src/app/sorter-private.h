/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of the sorter share. For sorter.c and sorter-acts.c alone. */
#pragma once

#include "app/likely.h"
#include "app/proposer.h"
#include "app/sorter.h"
#include "app/strip-view.h"

G_BEGIN_DECLS

struct _SwSorter
{
  GtkBox parent;
  SwStore *store;
  SwPictures *pictures;
  SwProposer *proposer;
  gint64 trip;
  gboolean opened;     /* the trip's first doubt was gone to */
  gint64 act;          /* of the strip shown */
  gint64 proposed_act; /* of the last proposing asked for */
  guint reading;
  GCancellable *cancellable;
  GSimpleActionGroup *actions;
  int choosing;     /* SwSortKind: what the chooser is open for */
  GArray *about;    /* photos that an open popover is about */
  gint64 done_at;   /* decided at that photo with no doubt left: goes on once there is one */
  gint64 captioned; /* the photo whose caption is shown or read */
  GtkWidget *stack, *left, *accept_sure, *strip, *photo, *stop_icon, *stop_word, *stop_number,
      *stop_title, *stop_reason, *caption, *picked, *propose_button, *give, *new_item, *sorted;
  GtkWidget *others[SW_LIKELY_OTHERS];
  GtkWidget *chooser, *namer, *receipt;
};

/* ---- sorter.c ---- */

/* Its strip. Transfer none. */
SwStripView *sw_sorter_strip (SwSorter *self);
/* FALSE where the catalogue is open for reading only. */
gboolean sw_sorter_is_writable (SwSorter *self);
/* What else the stop may show, likeliest first. */
void sw_sorter_find_others (SwSorter *self, const SwStopRecord *stop,
                            SwLikelyOther others[SW_LIKELY_OTHERS]);

/* ---- sorter-acts.c ---- */

/* The actions "sort." of keys, buttons and menus. */
void sw_sorter_add_actions (SwSorter *self);
/* What asks for an item, a name, a cost. Once the store is set. */
void sw_sorter_add_popovers (SwSorter *self);
/* Signals of the strip. */
void sw_sorter_on_activated (GtkWidget *strip, gint64 photo, SwSorter *self);
void sw_sorter_on_dropped (GtkWidget *strip, gint64 stop, SwSorter *self);

G_END_DECLS
