/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dice for invented walks: the same seed rolls the same numbers on every machine. SplitMix64
 * (Steele, Lea, Flood 2014, Fast splittable pseudorandom number generators), so that no library
 * decides. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  guint64 state;
} Dice;

/* Dice of their own for one side of a walk, so that the rest of it stays the same without them. */
Dice dice_new (guint64 seed, guint64 side);
guint64 dice_next (Dice *dice);
double dice_uniform (Dice *dice); /* 0 to below 1 */
double dice_between (Dice *dice, double low, double high);
gboolean dice_chance (Dice *dice, double chance);
int dice_range (Dice *dice, int low, int high); /* both inclusive */
double dice_normal (Dice *dice);
double dice_exponential (Dice *dice, double mean);
/* median x exp (sd x t), t of Student's distribution with 4 degrees of freedom, cut at 5: its tails
 * are far heavier than a log-normal's. */
double dice_heavy (Dice *dice, double median, double sd);
/* least x u^(-1 / alpha), at most 'most': a Pareto tail. */
double dice_pareto (Dice *dice, double least, double alpha, double most);

G_END_DECLS
