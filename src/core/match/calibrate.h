/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the model's probabilities to those that hold as often as they say. Match layer, pure. A
 * curve of two parameters on the logits, one for each situation of evidence (after Platt, J. C.,
 * 1999, Probabilistic outputs for support vector machines, in Advances in large margin
 * classifiers). */
#pragma once

#include "core/match/walk.h"

G_BEGIN_DECLS

typedef enum
{
  SW_SITUATION_NOTED,   /* paired with an item */
  SW_SITUATION_UNNOTED, /* a new thing on a walk with notes */
  SW_SITUATION_BARE,    /* a new thing on a walk without notes */
  SW_N_SITUATIONS,
} SwSituation;

/* Which it is, for a thing of that walk that the model pairs with an item or takes as new. */
SwSituation sw_situation_of (const SwWalk *walk, gboolean paired);
/* ln (p / (1 - p)), p held within 1e-6 of its ends. */
double sw_logit (double p);
double sw_calibrate (SwSituation situation, double p);
/* What no evidence of times can rise above in that situation: notes about swapped things look like
 * any other. sw_calibrate = ceiling x curve. */
double sw_calibrate_ceiling (SwSituation situation);

G_END_DECLS
