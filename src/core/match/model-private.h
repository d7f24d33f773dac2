/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What model.c, decode.c and evidence.c share of the chain's insides. Not for anyone else. */
#pragma once

#include "core/match/model.h"

G_BEGIN_DECLS

#define NO_LABEL (-100)
/* Most notes that one photo is weighed against; more within the window are cut to the nearest. */
#define BAND_MAX 80

typedef struct
{
  const SwWalkPhoto *source;
  guint index;
  gint64 t_us;
  int decided;
  int label_before; /* of the last decided photo up to this one, within the window */
  int label_after;  /* of the next decided photo after this one */
  double z;         /* ln of the gap to the next photo in seconds */
  double alike;     /* likelihood ratio of the pictures: same thing against another */
  double join;      /* weight of one stop going on past this photo: cards and tags cut */
  gboolean changes; /* the next photo is of another camera */
  int since;        /* how many photos ago it was changed before */
  double share;     /* of this photo's camera in all around; 1 where a camera has no name */
  double way_m;     /* to the next photo by their fixes, or past it; -1: not known */
  double way_s;     /* between those fixes */
  double still;     /* weight of one stop going on by that way */
  double hand;      /* weight of one stop going on by the cameras of this photo and the next */
  int cut;          /* what a person said of the gap before this photo; contradictions are 0 */
} ModelPhoto;

typedef struct
{
  gint64 tau_us;
  double res_s;
  int item;
  int place;
  gsize source; /* index into walk->notes */
} ModelNote;

typedef struct
{
  gint64 t_us;
  int place;
  gsize source;
} ModelVisit;

/* Densities of one near note at one photo. */
typedef struct
{
  double before, during, after, off;
  double usual_before, usual_after; /* the part that the person's usual lag accounts for */
} LagCell;

struct _SwModel
{
  const SwWalk *walk;
  gsize n, n_notes, n_visits;
  ModelPhoto *photos;
  ModelNote *notes;   /* in time order */
  ModelVisit *visits; /* in time order */
  int *lo, *hi;       /* notes [lo, hi) are near the photo */
  gsize *cell;        /* where a photo's near notes begin in lag and fit */
  guint *sizes;       /* states of a column */
  LagCell *lag;
  double *fit;      /* of the note's place with the photo's */
  double *detour;   /* weight of a detour that begins at the photo */
  gint64 *reach_us; /* a stop that begins at the photo has no note after this */
  double *stay;     /* weight of staying after the photo */
  double *step;     /* weight of a boundary, by kind of step */
  double *start, *finish;
  double *matched;  /* P(note matched), in time order */
  double *lookup;   /* the same by index into walk->notes */
  double *boundary; /* P(boundary after the photo) */
  double active_s;
  gboolean pruned; /* what is hardly possible is left out */
  double log_evidence;
  double *label_weight; /* scratch: by label + 3 */
  SwWalkParams params;
  SwChain *chain;
};

/* What is fixed of a photo: what a person decided, else that a card shows no thing, else the item
 * whose tag it shows; SW_WALK_OPEN for all others. */
static inline int
sw_walk_photo_fixed (const SwWalkPhoto *photo)
{
  if (photo->decided != SW_WALK_OPEN)
    return photo->decided;
  if (photo->is_card)
    return SW_WALK_NONE;
  return photo->bearer > 0 ? photo->bearer - 1 : SW_WALK_OPEN;
}

/* A state of column i taken apart. */
typedef struct
{
  int p;    /* the last note used in walk order, -1: none */
  int note; /* whose thing the stop shows, or -1 */
  SwPhase phase;
  gboolean pending; /* the note's time is still to be accounted for */
} StateParts;

/* What a state of photo i stands for. */
static inline StateParts
sw_model_parts (const SwModel *model, gsize i, guint state)
{
  StateParts parts
      = { .p = model->lo[i] - 1 + (int)(state / SW_N_PHASES), .phase = state % SW_N_PHASES };

  parts.note = parts.phase < SW_PHASE_NEW ? parts.p - (parts.phase == SW_PHASE_LATE) : -1;
  parts.pending = parts.phase == SW_PHASE_PENDING || parts.phase == SW_PHASE_HELD;
  return parts;
}

/* Of microseconds. */
static inline double
sw_model_seconds (gint64 us)
{
  return (double)us / 1e6;
}

/* model.c */
/* The last note 'here now' up to that moment, as an index into visits; -1: none in the hours before
 * it. */
int sw_model_visit (const SwModel *model, gint64 t_us);

/* factors.c */
/* Seconds from photo i to the one before (side -1) or after it: the pause, should a stop begin or
 * end there. */
double sw_model_pause_s (const SwModel *model, gsize i, int side);
/* Fills lag, detour, stay, step, start and finish from the present parameters. leak: weight of a
 * boundary where a person joined. */
void sw_model_fill_factors (SwModel *model, double leak);

/* learn.c */
/* Expected counts under the present parameters; boundary and matched as by-products. */
void sw_model_expect (SwModel *model, SwWalkCounts *out_counts);

/* where.c */
/* Fills 'fit' of all cells: how much likelier the person was in the note's place then than in any
 * of the places that are spoken of; 1 where nothing is known. Wants the first guess of the habits.
 */
void sw_where_fill (SwModel *model);

/* evidence.c */
/* Likelihood of the photo's position for that place against the mean over all places whose position
 * is known; 1 where nothing is known. */
double sw_place_position_fit (const SwWalk *walk, const SwWalkPhoto *photo, int place);
/* The same of n places at once. */
void sw_place_position_fits (const SwWalk *walk, const SwWalkPhoto *photo, const int *places,
                             gsize n, double *out_fits);
/* The place that the photos' positions speak for: the likeliest, where it holds most of the mass;
 * -1 where they say nothing. Places without a position cannot be told from each other and are never
 * chosen. */
int sw_place_by_position (const SwWalk *walk, const guint *photos, gsize n);
/* Fills 'alike' of all photos from their hashes; how much a likeness says is learned from the walk
 * itself. */
void sw_likeness_weigh (SwModel *model);
/* Fills 'changes', 'since' and 'share' of all photos but the last. */
void sw_cameras_weigh (SwModel *model);
/* Fills 'way_m' and 'way_s' of all photos. What lies between two fixes of one camera was walked in
 * the longest pause between them; gaps must be measured. */
void sw_motion_measure (SwModel *model);
/* Fills 'join' of all photos from the cards and tags they show; gaps must be measured. */
void sw_signs_cut (SwModel *model);

G_END_DECLS
