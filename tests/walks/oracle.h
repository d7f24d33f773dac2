/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The best that the model could do: the same factors with every clock right and the person's habits
 * counted from the truth, nothing pruned. */
#pragma once

#include "core/match/stops.h"
#include "walkgen.h"

G_BEGIN_DECLS

/* A proposal made with knowledge that no one has. Transfer full. */
SwProposal *oracle_propose (const TrueWalk *truth);

G_END_DECLS
