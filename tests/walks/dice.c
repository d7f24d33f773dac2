/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random numbers without a library. */
#include "dice.h"

#include <math.h>

Dice
dice_new (guint64 seed, guint64 side)
{
  Dice dice = { seed * G_GUINT64_CONSTANT (0xD1342543DE82EF95) + side };

  /* Seeds follow one another: their first numbers must not. */
  dice.state = dice_next (&dice);
  return dice;
}

guint64
dice_next (Dice *dice)
{
  guint64 z = (dice->state += G_GUINT64_CONSTANT (0x9E3779B97F4A7C15));

  z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94D049BB133111EB);
  return z ^ (z >> 31);
}

double
dice_uniform (Dice *dice)
{
  return (double)(dice_next (dice) >> 11) * 0x1.0p-53;
}

double
dice_between (Dice *dice, double low, double high)
{
  return low + (high - low) * dice_uniform (dice);
}

gboolean
dice_chance (Dice *dice, double chance)
{
  return dice_uniform (dice) < chance;
}

int
dice_range (Dice *dice, int low, int high)
{
  return low + (int)(dice_next (dice) % (guint64)(high - low + 1));
}

double
dice_normal (Dice *dice)
{
  double u = 1 - dice_uniform (dice), v = dice_uniform (dice);

  return sqrt (-2 * log (u)) * cos (2 * G_PI * v);
}

double
dice_exponential (Dice *dice, double mean)
{
  return -mean * log (1 - dice_uniform (dice));
}

double
dice_heavy (Dice *dice, double median, double sd)
{
  double z = dice_normal (dice), chi = 0, t;

  for (int k = 0; k < 4; k++)
    {
      double x = dice_normal (dice);

      chi += x * x;
    }
  t = z / sqrt (chi / 4);
  return median * exp (sd * CLAMP (t, -5, 5));
}

double
dice_pareto (Dice *dice, double least, double alpha, double most)
{
  return MIN (least * pow (1 - dice_uniform (dice), -1 / alpha), most);
}
