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

/* Rates and the planned load as they stand, for a whole list of floors: each rate is asked for
 * once.
 */
typedef struct _SwScrapRates SwScrapRates;
SwScrapRates *sw_scrap_rates_new (SwCatalogue *catalogue, GError **error);
void sw_scrap_rates_free (SwScrapRates *rates);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwScrapRates, sw_scrap_rates_free)
/* The floor of that mass by the best rate of the class on that day, else by today's. *out_known
 * FALSE where there is no rate. Error: overflow, those of the catalogue. */
gboolean sw_scrap_rates_floor (SwScrapRates *rates, const char *scrap_class, SwMass mass, SwDay on,
                               gboolean *out_known, SwMoney *out_floor, GError **error);

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
