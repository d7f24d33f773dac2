/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the whole pairing model says of a shift: the evidence of the photos moved by it, among those
 * that stand. It knows what the quick likelihoods (clock-likelihood.h) leave out: that a thing has
 * one note, that notes and things come in one order, that one person walks with all cameras.
 * Private to the clock modules. */
#pragma once

#include "core/match/clock.h"
#include "core/match/stops-private.h"

G_BEGIN_DECLS

/* Most photos that a clock is judged by: mostly all there are. Notes beside photos left out seem to
 * be without photos, and a shift that lays other photos there would gain by it. */
#define SW_CLOCK_JUDGED 600

/* The photos to be moved are by their clocks, those that stand in property time; both SwModelPhoto
 * in time order and borrowed. Long series are judged by their middle. alone: those to be moved are
 * of the only camera. */
typedef struct _SwClockJudge SwClockJudge;
SwClockJudge *sw_clock_judge_new (const SwWalk *walk, const GArray *moved, const GArray *standing,
                                  gboolean alone);
void sw_clock_judge_free (SwClockJudge *judge);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwClockJudge, sw_clock_judge_free)

/* Log evidence of the photos (SwModelPhoto in time order) where they are, with what habits they
 * show. */
double sw_clock_judge_photos (const SwWalk *walk, const GArray *photos);

/* What of the log evidence is believed of a clock that so many photos were taken by. */
double sw_clock_judge_toned (double log_evidence, gsize n_photos);

/* Weighs the first n modes anew by the model, with the prior, the faces and the fixes of the
 * evidence: the likeliest few are refined to where the model puts them. Returns how many stay,
 * heaviest first. */
gsize sw_clock_judge_modes (SwClockJudge *judge, const SwClockEvidence *evidence,
                            SwClockMode *modes, gsize n);
/* The same of many tries: a glance at each leaves up to SW_CLOCK_MODES to be weighed. */
gsize sw_clock_judge_tries (SwClockJudge *judge, const SwClockEvidence *evidence,
                            const SwClockMode *tries, gsize n, SwClockMode *out_modes);
/* Where the quick look alone (own: its tries) saw another shift than the modes say, some of that
 * stays: two ways of judging that disagree are no certainty. Returns how many modes there are then,
 * up to SW_CLOCK_MODES. */
gsize sw_clock_add_doubt (SwClockMode *modes, gsize n, const SwClockMode *own, gsize n_own);

G_END_DECLS
