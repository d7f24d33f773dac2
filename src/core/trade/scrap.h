/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The scrap floor: what an item would bring as scrap after cartage; can be negative. Trade layer.
 */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* mass x rate / 1000 kg, rounded, minus mass x cartage / load, rounded, both half-up. rate is for
 * 1000 kg. load 0: no cartage is taken off. Masses of micrograms, >= 0. Error: overflow. */
gboolean sw_scrap_floor (SwMass mass, SwMoney rate, SwMoney cartage, SwMass load,
                         SwMoney *out_floor, GError **error);

typedef struct
{
  gboolean known;
  SwMoney floor; /* only where known */
  char *words;   /* what it assumes, or what is missing for it; a sentence */
} SwItemFloor;
void sw_item_floor_clear (SwItemFloor *floor);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwItemFloor, sw_item_floor_clear)

/* The item's floor by today's best rate of its class and the planned load. An error only of the
 * database. */
gboolean sw_item_floor (SwCatalogue *catalogue, const SwItem *item, SwItemFloor *out_floor,
                        GError **error);

G_END_DECLS
