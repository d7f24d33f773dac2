/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The curves of calibrate.c, fitted anew. One fit at a time. */
#pragma once

#include "core/match/stops.h"
#include "walkgen.h"

G_BEGIN_DECLS

void fit_begin (void);
void fit_add (const TrueWalk *truth, const SwProposal *proposal);
/* To standard output: the rows of the table, how well they fit, and what they could reach. */
void fit_print (void);
void fit_end (void);

G_END_DECLS
