/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fields of an item's sheet that are typed: name, count and asking price. What was typed is
 * saved by itself a moment after the last key, at once with Enter or when the field is left. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* Lies zeroed in the sheet, which sets the entries and the store; both are the sheet's. */
typedef struct
{
  SwStore *store;
  GtkWidget *name, *count, *asking; /* GtkEntry */
  gboolean filling;                 /* the sheet is being filled: nothing counts as typed */
  gint64 item, revision;            /* as shown; item 0: none */
  guint timer;                      /* what was typed is saved when it fires; 0: nothing typed */
} SwItemFields;

/* A field that the person is typing in, or whose text was refused, keeps what was typed. */
void sw_item_fields_show (SwItemFields *self, const SwItem *item);
/* The entry was changed. */
void sw_item_fields_typed (SwItemFields *self, GtkWidget *entry);
/* Saves the entry now, or says what is wrong with it. */
void sw_item_fields_take (SwItemFields *self, GtkWidget *entry);
/* What was loaded stands in the entry again; FALSE where it does. */
gboolean sw_item_fields_put_back (SwItemFields *self, GtkWidget *entry);
/* Saves a moment from now what differs from what was loaded. */
void sw_item_fields_wait (SwItemFields *self);
/* Saves now what was typed, but not again what was refused. */
void sw_item_fields_save (SwItemFields *self);
/* Before another item is shown, or none: saves what was typed, and no item is shown any more. */
void sw_item_fields_leave (SwItemFields *self);
/* Nothing is saved any more. */
void sw_item_fields_clear (SwItemFields *self);

G_END_DECLS
