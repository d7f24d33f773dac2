/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What yards pay for scrap by class, and the load that floors assume. Records of the catalogue
 * layer; the sums are core/trade's. */
#pragma once

#include "core/base/mass.h"
#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* The rate for 1000 kg of the class at the yard from that day on; below zero: what the yard charges
 * to take it (disposal). The same yard, class and day again takes its place. An act with its event.
 * Errors: BAD_INPUT, NOT_FOUND (the outlet). */
gboolean sw_yard_rate_set (SwCatalogue *catalogue, gint64 outlet, const char *class, SwDay from,
                           SwMoney rate, GError **error);
/* The best rate of the class in force on that day: of what was set the latest of each yard, else of
 * the latest docket line of the class. *out_from names it ("Yard, from 2026-04-01", "docket of
 * 2026-03-02"; transfer full). *out_found FALSE where there is none. */
gboolean sw_yard_rate_best (SwCatalogue *catalogue, const char *class, SwDay on,
                            gboolean *out_found, SwMoney *out_rate, char **out_from,
                            GError **error);
/* What a yard pays where it fetches the scrap itself: no cartage, from a least mass on. */
typedef struct
{
  gint64 outlet;
  char *yard; /* its name */
  char *scrap_class;
  SwDay from;
  SwMoney rate; /* for 1000 kg */
  SwMass least; /* of all that the yard would fetch at one go */
} SwCollectedRate;
void sw_collected_rate_free (SwCollectedRate *rate);
/* As sw_yard_rate_set; least >= 0. */
gboolean sw_collected_rate_set (SwCatalogue *catalogue, gint64 outlet, const char *class,
                                SwDay from, SwMoney rate, SwMass least, GError **error);
/* Those in force on that day, the latest of each yard and class: GPtrArray of SwCollectedRate by
 * class, the best rate first. Transfer full. */
GPtrArray *sw_collected_rates_on (SwCatalogue *catalogue, SwDay on, GError **error);

/* The load planned: its cartage and its mass (> 0). An act with its event. */
gboolean sw_scrap_load_set (SwCatalogue *catalogue, SwMoney cartage, SwMass mass, GError **error);
/* *out_found FALSE where no load was planned. */
gboolean sw_scrap_load_get (SwCatalogue *catalogue, gboolean *out_found, SwMoney *out_cartage,
                            SwMass *out_mass, GError **error);

G_END_DECLS
