/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items as rows of a list: joins core's items with the row provider. Text only; no widget. */
#pragma once

#include "app/item-list.h"
#include "app/rows.h"

G_BEGIN_DECLS

/* 'with_place' names the place in each row. Transfer full. */
SwRows *sw_item_rows_new (SwStore *store, SwItemList *list, gboolean with_place);

G_END_DECLS
