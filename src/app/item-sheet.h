/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An item's sheet: photos, fields that can be changed, next steps, facts, history. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_ITEM_SHEET (sw_item_sheet_get_type ())
G_DECLARE_FINAL_TYPE (SwItemSheet, sw_item_sheet, SW, ITEM_SHEET, GtkBox)

/* Once, before the first item. */
void sw_item_sheet_set_store (SwItemSheet *self, SwStore *store, SwPictures *pictures);
/* 0: none. */
void sw_item_sheet_set_item (SwItemSheet *self, gint64 item);
/* At its photos; FALSE where it has none. */
gboolean sw_item_sheet_look_closer (SwItemSheet *self);

G_END_DECLS
