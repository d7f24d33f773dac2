/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Size classes: who lifts a thing, where it rides, and the mass guessed from the first. Records of
 * the catalogue layer. */
#pragma once

#include <glib.h>

#include "core/base/mass.h"

G_BEGIN_DECLS

typedef enum
{
  SW_SIZE_UNKNOWN,
  SW_SIZE_HAND,
  SW_SIZE_TWO_PEOPLE,
  SW_SIZE_MACHINE,
  SW_N_SIZES,
} SwSize;

typedef enum
{
  SW_STOWS_UNKNOWN,
  SW_STOWS_SHELF,
  SW_STOWS_FLOOR,
  SW_STOWS_ROOF,
  SW_STOWS_TRAILER,
  SW_N_STOWS,
} SwStows;

/* The word in the database and in sentences; NULL for UNKNOWN. */
const char *sw_size_word (SwSize size);
const char *sw_stows_word (SwStows stows);
/* NULL or a foreign word: UNKNOWN. */
SwSize sw_size_from_word (const char *word);
SwStows sw_stows_from_word (const char *word);
/* The mass guessed for one piece of that class: 10 kg, 40 kg, 250 kg. Common practice, with no
 * source: one person lifts about 25 kg at most, so a thing for one hand's work is well below it. */
SwMass sw_size_mass (SwSize size);

G_END_DECLS
