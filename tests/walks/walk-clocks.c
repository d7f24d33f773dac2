/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the cameras' clocks showed. A phone's is right more often than not; the others were set
 * once, by hand, to some zone. */
#include "walk-scene.h"

#include <math.h>

#define DAY_S 86400.0
#define HOUR_S 3600.0

/* A camera's clock lacks shift_s + drift x time since the walk began, and from 'at' on 'jump_s'
 * more. */
typedef struct
{
  double shift_s, drift; /* seconds; seconds a second */
  guint jump_at;         /* its first shot after a jump; G_MAXUINT: none */
  double jump_s;
  gint64 step_us;
} Clock;

static double
sign (Dice *dice)
{
  return dice_chance (dice, 0.5) ? 1 : -1;
}

static double
draw_shift (Dice *dice, double right)
{
  double turn = dice_uniform (dice), way = sign (dice);
  double minutes_s = dice_between (dice, 3, 600);
  int hours = dice_chance (dice, 0.6) ? 1 : dice_range (dice, 2, 11);
  int days = dice_chance (dice, 0.6) ? 1 : dice_range (dice, 2, 60);

  if (turn < right)
    return 0;
  turn = (turn - right) / (1 - right);
  if (turn < 0.35)
    return way * rint (minutes_s);
  if (turn < 0.75)
    return way * hours * HOUR_S;
  if (turn < 0.85)
    return way * days * DAY_S;
  return way * (hours * HOUR_S + rint (minutes_s));
}

/* A battery taken out sets a clock to its first day; the end of summer time moves it an hour. */
static double
draw_jump (Dice *dice, double now_s)
{
  const double first_day_s = 1420070400; /* 2015-01-01 00:00 */

  if (dice_chance (dice, 0.5))
    return now_s - first_day_s;
  return sign (dice) * HOUR_S;
}

static Clock
draw_clock (const Scene *scene, Dice *dice, int camera)
{
  const WalkKind *kind = scene->kind;
  Clock clock = { .jump_at = G_MAXUINT };
  double shift = draw_shift (dice, camera == 0 ? 0.5 : 0.15);
  double a_day = sign (dice) * dice_between (dice, 4, 120);
  gboolean drifts = dice_chance (dice, camera == 0 ? 0.05 : 0.3);
  gboolean jumps = dice_chance (dice, 0.01);
  double part = dice_between (dice, 0.2, 0.8);

  clock.step_us = dice_chance (dice, 0.4) ? 10000 : SW_US_PER_SECOND;
  if (kind->clock_faults)
    clock.shift_s = shift;
  if (kind->drift || (kind->clock_faults && drifts))
    clock.drift = a_day / DAY_S;
  if ((kind->reset && camera == 0) || (kind->clock_faults && jumps))
    {
      guint at = (guint)(part * scene->shots->len);

      clock.jump_at = at;
      clock.jump_s = draw_jump (dice, g_array_index (scene->shots, Shot, at).t_s - clock.shift_s);
    }
  return clock;
}

void
scene_clocks (Scene *scene)
{
  Dice dice = dice_new (scene->seed, SIDE_CLOCKS);
  TrueWalk *truth = scene->truth;
  g_autofree Clock *clocks = g_new0 (Clock, (gsize)scene->kind->cameras);
  double begin = g_array_index (scene->shots, Shot, 0).t_s;

  for (int c = 0; c < scene->kind->cameras; c++)
    {
      clocks[c] = draw_clock (scene, &dice, c);
      truth->shift_s[c] = clocks[c].shift_s;
      truth->jumps[c] = clocks[c].jump_at != G_MAXUINT;
    }
  for (guint i = 0; i < scene->shots->len; i++)
    {
      const Shot *shot = &g_array_index (scene->shots, Shot, i);
      const Clock *clock = &clocks[shot->camera];
      SwWalkPhoto *photo = &truth->photos[i];

      truth->stretch[i] = i >= clock->jump_at;
      truth->lacks_s[i] = clock->shift_s + clock->drift * (shot->t_s - begin)
                          + (i >= clock->jump_at ? clock->jump_s : 0);
      truth->true_us[i] = (gint64)(shot->t_s * 1e6);
      photo->resolution_us = clock->step_us;
      photo->clock_us = (gint64)((shot->t_s - truth->lacks_s[i]) * 1e6);
      photo->clock_us = photo->clock_us / clock->step_us * clock->step_us;
    }
}
