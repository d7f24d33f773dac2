/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The proposal for one trip: clock shifts, stops, and what each stop shows, with probability, band
 * and reason. Match layer, pure: reads SwWalk, touches no catalogue. */
#pragma once

#include "core/match/model.h"
#include "core/match/walk.h"

G_BEGIN_DECLS

typedef struct
{
  guint *photos; /* indices into walk->photos, in time order; at least one */
  gsize n_photos;
  int label;          /* an item's index, SW_LABEL_NONE (a person said so) or SW_LABEL_NEW */
  int place;          /* index into walk->places, or -1 */
  int note;           /* index into walk->notes of the note it was matched by, or -1 */
  gboolean decided;   /* a person decided at least one of its photos */
  int tag;            /* number of the first tag its photos show, 0: none */
  gsize tag_at;       /* which of its photos shows it */
  double probability; /* 0 to 1: mean of its photos' marginals, calibrated */
  double raw;         /* the same before calibration */
  SwBand band;
  char *reason; /* one plain line */
  gboolean timed;
  gint64 first_us, last_us; /* property time; 0 where !timed */
} SwStop;

/* What stands behind one photo, for 'explain'. */
typedef struct
{
  guint stop;     /* index into stops */
  gboolean timed; /* FALSE: no usable time */
  gboolean apart; /* no clock joins it to the others' photos: camera unknown to notes, weak time */
  gboolean by_likeness;                   /* stands with the photo it looks like, not by its time */
  gboolean repaired;                      /* the time was taken from the photos around it */
  gint64 t_us;                            /* property time */
  double shift_s;                         /* what was added to its camera's clock */
  double gap_before_s, gap_after_s;       /* to its neighbours in time; -1: none */
  double boundary_before, boundary_after; /* P(boundary); 1 at the ends */
  double joined;                          /* P(it goes on a stop beside it that a person decided) */
  int labels[3];              /* the likeliest, falling; SW_LABEL_NEW and SW_LABEL_NONE included */
  double label_p[3];          /* 0: not filled */
  SwGapWeights before, after; /* of the gaps to its neighbours, where there are */
  gboolean noted[3];          /* whether a note of that label is near, and what it weighs */
  SwNoteWeights note_weights[3];
} SwPhotoView;

/* A photo that shows another thing beside its stop's. */
typedef struct
{
  guint photo; /* index into walk->photos */
  int item;    /* index into walk->items; -1: the thing of a tag that is on no item yet */
  int tag;     /* the tag that can be read in it; 0: none */
  guint like;  /* tag 0: it looks the same as this photo, of which a person said so */
} SwAlso;

typedef struct
{
  SwStop *stops; /* by first photo's time; those without a time last */
  gsize n_stops;
  SwPhotoView *views;    /* one a photo of the walk, same index */
  SwClockResult *clocks; /* one a camera of the walk, same index: from its first photo on */
  SwClockPart *parts;    /* where a clock changes, by camera and photo */
  gsize n_parts;
  SwAlso *also; /* by photo, tag and item; what a person said already is not among them */
  gsize n_also;
  gsize n_photos, n_cameras;
} SwProposal;

/* Every photo stands in exactly one stop. Deterministic. Transfer full. */
SwProposal *sw_stops_propose (const SwWalk *walk);
void sw_proposal_free (SwProposal *proposal);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwProposal, sw_proposal_free)

/* The evidence behind one photo, several plain lines. Transfer full. */
char *sw_stops_explain (const SwWalk *walk, const SwProposal *proposal, guint photo);
/* The reason line of a stop; private to the match layer. Transfer full. */
char *sw_stops_reason (const SwWalk *walk, const SwProposal *proposal, const SwStop *stop);

G_END_DECLS
