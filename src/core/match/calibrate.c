/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The curves. Fitted on drawn walks of the tune set (tests/walks, walk-results --fit), told on
 * others. Must not know how a probability came about. */
#include "core/match/calibrate.h"

#include <math.h>

typedef struct
{
  double ceiling; /* a judgement, not fitted */
  double offset, slope;
} Curve;

static const Curve curves[SW_N_SITUATIONS] = {
  [SW_SITUATION_NOTED] = { 0.99, 0.200, 0.792 },
  [SW_SITUATION_UNNOTED] = { 1, 0.352, 0.938 },
  [SW_SITUATION_BARE] = { 1, 0.527, 0.928 },
};

SwSituation
sw_situation_of (const SwWalk *walk, gboolean paired)
{
  if (paired)
    return SW_SITUATION_NOTED;
  for (gsize k = 0; k < walk->n_notes; k++)
    if (walk->notes[k].item >= 0)
      return SW_SITUATION_UNNOTED;
  return SW_SITUATION_BARE;
}

double
sw_logit (double p)
{
  p = CLAMP (p, 1e-6, 1 - 1e-6);
  return log (p / (1 - p));
}

double
sw_calibrate (SwSituation situation, double p)
{
  const Curve *curve = &curves[situation];

  return curve->ceiling / (1 + exp (-curve->offset - curve->slope * sw_logit (p)));
}

double
sw_calibrate_ceiling (SwSituation situation)
{
  return curves[situation].ceiling;
}
