/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pairing model's parameters, their priors, and the densities made of them. Match layer, pure.
 * Gaps are measured as z = ln(seconds); log-normal gaps are then normal. Lags are seconds between a
 * note and the stop it belongs to. */
#pragma once

#include "core/match/mixture.h"
#include "core/match/motion.h"

G_BEGIN_DECLS

/* Where a step between two stops leads. */
typedef enum
{
  SW_STEP_SAME,  /* both places known and the same */
  SW_STEP_OTHER, /* both known and different */
  SW_STEP_ANY,   /* one of them unknown */
  SW_N_STEPS,
} SwStep;

/* Parts of the gap between stops: a step along, a walk, a break or a night. */
enum
{
  SW_GAP_NEAR,
  SW_GAP_WALK,
  SW_GAP_BREAK,
  SW_N_GAPS,
};

/* How a note lies to its stop. */
enum
{
  SW_LAG_BEFORE, /* written, then photographed */
  SW_LAG_DURING,
  SW_LAG_AFTER,
  SW_LAG_OFF, /* its time is wrong by minutes */
  SW_N_LAGS,
};

/* How many photos ago the camera was changed: 1 to 3, SW_SINCE_LONG for longer ago. */
#define SW_SINCE_LONG 0
#define SW_N_SINCE 4

typedef struct
{
  double boundary; /* chance that a gap lies between two stops */
  double burst;    /* share of gaps inside a stop between two photos taken at once */
  double slow;     /* and of slow ones */
  SwNormal within; /* z of the other gaps inside a stop */
  SwNormal between[SW_N_GAPS];
  /* Chance that a camera is picked anew for the next photo of a thing, by how long ago it was
   * changed. */
  double pick[SW_N_SINCE];
  double noted; /* chance that a thing has a note */
  double stray; /* notes without photos, per second */
  double lag_share[SW_N_LAGS];
  SwNormal lag[2]; /* ln(lag + slack) for BEFORE and, in [1], AFTER */
  SwMotion motion; /* of the phone's fixes */
} SwWalkParams;

/* Longest time in seconds between a note and a photo that may belong to it. */
#define SW_WALK_WINDOW_S 1200.0

/* What is held of walks in general, before the trip itself says more (made by tests/walks/fit). */
SwWalkParams sw_walk_params_default (void);

/* Density of z inside a stop: a log-normal, with a part for two photos at once and a slow one for a
 * second look. */
double sw_gap_within (const SwWalkParams *params, double z);
double sw_gap_between (const SwWalkParams *params, SwStep step, double z);
/* Density of z inside a stop between photos of two cameras: one person lays one down and takes up
 * the other, which takes seconds, and takes no two at once. */
double sw_gap_change (const SwWalkParams *params, double z);
/* Weight of such a gap against one of the same camera, wherever it lies: 1 for long ones. */
double sw_change_weight (double z);
/* The same one photo on, which is of another camera or not. */
int sw_since_next (int since, gboolean changes);
/* Weight of one stop going on from photo to photo by the cameras that took them, against another
 * thing beginning. A camera mostly stays in hand while one thing is photographed, unless two are
 * used in turns; for the next thing any is taken up, as often as its share of all photos has it. */
double sw_camera_in_hand (const SwWalkParams *params, int since, gboolean changes, double share);
/* Density per second that a note falls 'lag_s' before (or after) its stop, averaged over the res_s
 * seconds in which it may have been written: lag_s is the lag of the note's earliest moment, for
 * SW_LAG_BEFORE the largest, for SW_LAG_AFTER the smallest. The note lies beside a pause of room_s
 * seconds between two stops: it is mostly written before the next stop begins (after the last one
 * ended). out_own: the part of it that the person's usual lag accounts for; the rest was hurried by
 * the pause's end. */
double sw_lag_in_room (const SwWalkParams *params, int which, double lag_s, double res_s,
                       double room_s, double *out_own);
/* Density of a note whose time is wrong, at any distance. */
double sw_lag_off_density (double distance_s);
/* What one round of expectation leaves: expected counts and sums. */
typedef struct
{
  double stays, boundaries;
  double bursts, slow;
  SwNormalSums within;
  SwNormalSums between[SW_N_GAPS];
  double picks[SW_N_SINCE], photos[SW_N_SINCE]; /* cameras picked anew inside a stop, of so many */
  double noted, unnoted;
  double lag_count[SW_N_LAGS];
  SwNormalSums lag[2];
  SwMotionSums motion;
  double strays;  /* expected notes without photos */
  double seconds; /* time in which notes could have been written */
} SwWalkCounts;

/* Counts a gap inside a stop, or between two, with that weight; its share of each part under the
 * present parameters is what that part learns from. */
void sw_walk_counts_stay (SwWalkCounts *counts, const SwWalkParams *params, double z,
                          double weight);
void sw_walk_counts_boundary (SwWalkCounts *counts, const SwWalkParams *params, SwStep step,
                              double z, double weight);
/* Counts what the cameras of two photos of one stop say, as in sw_camera_in_hand. */
void sw_walk_counts_camera (SwWalkCounts *counts, const SwWalkParams *params, int since,
                            gboolean changes, double share, double weight);
/* Counts a lag that is the person's usual one with that weight; lag_s, res_s and room_s as in
 * sw_lag_in_room. What a coarse note leaves open is filled in by the present parameters. */
void sw_walk_counts_lag (SwWalkCounts *counts, const SwWalkParams *params, int which, double lag_s,
                         double res_s, double room_s, double weight);
/* The M-step: MAP under priors. */
void sw_walk_params_learn (SwWalkParams *params, const SwWalkCounts *counts);
/* A first guess of the gaps from the z values alone. */
void sw_walk_params_guess (SwWalkParams *params, const double *z, gsize n);
/* Value of a lag for the sums (ln(lag + slack)). */
double sw_lag_value (double lag_s);

G_END_DECLS
