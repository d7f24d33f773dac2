/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of the size classes and the masses guessed from them. */
#include "core/catalogue/sizes.h"
#include "core/base/language.h"

static const char *const sizes[SW_N_SIZES]
    = { NULL, N_ ("hand"), N_ ("two people"), N_ ("machine") };
static const gint64 guessed_kg[SW_N_SIZES] = { 0, 10, 40, 250 };
static const char *const stows[SW_N_STOWS]
    = { NULL, N_ ("shelf"), N_ ("floor"), N_ ("roof"), N_ ("trailer") };

static int
find (const char *const *words, int n, const char *word)
{
  for (int i = 1; word != NULL && i < n; i++)
    if (g_str_equal (words[i], word))
      return i;
  return 0;
}

const char *
sw_size_word (SwSize size)
{
  g_return_val_if_fail (size < SW_N_SIZES, NULL);
  return sizes[size];
}

const char *
sw_stows_word (SwStows where)
{
  g_return_val_if_fail (where < SW_N_STOWS, NULL);
  return stows[where];
}

SwSize
sw_size_from_word (const char *word)
{
  return (SwSize)find (sizes, SW_N_SIZES, word);
}

SwStows
sw_stows_from_word (const char *word)
{
  return (SwStows)find (stows, SW_N_STOWS, word);
}

SwMass
sw_size_mass (SwSize size)
{
  g_return_val_if_fail (size < SW_N_SIZES, (SwMass){ 0 });
  return (SwMass){ guessed_kg[size] * SW_UG_PER_KG };
}
