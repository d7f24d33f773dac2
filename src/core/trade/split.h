/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the money of a lot is shared out over its items: by asking price; where one has none, by
 * mass; where one of those is missing too, equally; to the cent by largest remainder, ties to the
 * lower item number. Trade layer; amounts in, amounts out. */
#pragma once

#include "core/base/mass.h"
#include "core/base/money.h"

G_BEGIN_DECLS

/* X (tag, key kept with the deal). */
#define SW_SPLIT_RULES(X)                                                                          \
  X (BY_ASKING, "asking")                                                                          \
  X (BY_MASS, "mass")                                                                              \
  X (EQUALLY, "equally")
#define SW_SPLIT_RULE_AS_ENUM(tag, key) SW_SPLIT_##tag,
typedef enum
{
  SW_SPLIT_RULES (SW_SPLIT_RULE_AS_ENUM) SW_N_SPLIT_RULES
} SwSplitRule;
const char *sw_split_rule_key (SwSplitRule rule);

typedef struct
{
  gboolean has_asking, has_mass;
  SwMoney asking; /* of the whole count */
  SwMass mass;    /* of the whole count */
} SwSplitPart;

/* Fills out_weights[n] and says by which rule. Parts in the order of their item numbers. Where all
 * weights of a rule are zero the rule says EQUALLY and they are all 1. */
SwSplitRule sw_split_weights (const SwSplitPart *parts, gsize n, gint64 *out_weights);

/* A docket line's: by mass; where one is missing, equally. */
SwSplitRule sw_split_weights_by_mass (const SwSplitPart *parts, gsize n, gint64 *out_weights);

G_END_DECLS
