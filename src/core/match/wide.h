/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wide photos: which other things one shows beside its stop's. Match layer, pure; proposed once the
 * stops stand, never a state of the chain. Cautious: a tag that can be read in the photo tells
 * another thing, and so does a picture that is the same as one of its stop of which a person said
 * it. That two pictures are somewhat alike tells nothing of a second thing: over 200 drawn walks
 * photos with the next thing in view were as far from its photos (64-bit difference hash, whole and
 * by halves) as photos without it, and so were the demo's by their 8 x 8 grids. */
#pragma once

#include "core/match/stops.h"

G_BEGIN_DECLS

/* Pictures that differ in so few of 64 bits are taken for one picture: a judgement, far below what
 * two views of one thing usually differ in. */
#define SW_SAME_PICTURE_BITS 3

/* Fills 'also' of the proposal, whose stops and views stand. */
void sw_wide_propose (const SwWalk *walk, SwProposal *proposal);

G_END_DECLS
