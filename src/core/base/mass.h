/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mass by exact factors, in micrograms: 1 lb = 453 592 370 ug (international pound, 0.45359237 kg
 * exactly). Base layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  gint64 ug;
} SwMass;

#define SW_UG_PER_KG G_GINT64_CONSTANT (1000000000)
#define SW_UG_PER_GRAM G_GINT64_CONSTANT (1000000)

/* "12 kg", "12.5kg", "800 g", "1.2 t", "40 lb", "3 cwt" (long hundredweight, 112 lb); a bare number
 * is kg. A decimal comma is taken unless three digits follow it (it could part thousands). Refuses
 * negatives, unknown units, overflow, metric parts finer than a microgram; pounds and
 * hundredweights are rounded to it, half up, since a quarter of a pound is no whole number of
 * micrograms. Error: BAD_INPUT. */
gboolean sw_mass_parse (const char *text, SwMass *out, GError **error);
/* kg with the decimals needed and the unit: "12.5 kg". Transfer full. */
char *sw_mass_to_text (SwMass mass);
/* Whole grams, a part of one counted as one: what is loaded must be borne. mass >= 0. */
gint64 sw_mass_to_grams_up (SwMass mass);
/* For sums at a glance, rounded half up: "1.3 t" from a tonne on, "80 kg", below ten kg "2.5 kg".
 * Transfer full. */
char *sw_mass_to_rough_text (SwMass mass);

G_END_DECLS
