/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chooses the weights by which a lot's money is shared out. Knows nothing of offers or the
 * database. */
#include "core/trade/split.h"

#define AS_KEY(tag, key) [SW_SPLIT_##tag] = key,
static const char *const rule_keys[SW_N_SPLIT_RULES] = { SW_SPLIT_RULES (AS_KEY) };

const char *
sw_split_rule_key (SwSplitRule rule)
{
  g_return_val_if_fail (rule >= 0 && rule < SW_N_SPLIT_RULES, "");
  return rule_keys[rule];
}

static gboolean
weigh (const SwSplitPart *part, SwSplitRule rule, gint64 *out_weight)
{
  if (rule == SW_SPLIT_BY_ASKING)
    *out_weight = part->asking.minor;
  else
    *out_weight = part->mass.ug;
  return rule == SW_SPLIT_BY_ASKING ? part->has_asking : part->has_mass;
}

/* FALSE where a part has no such figure, or all figures are zero and so give no proportion. */
static gboolean
weigh_all (const SwSplitPart *parts, gsize n, SwSplitRule rule, gint64 *out_weights)
{
  gboolean any = FALSE;
  for (gsize i = 0; i < n; i++)
    {
      if (!weigh (&parts[i], rule, &out_weights[i]))
        return FALSE;
      any = any || out_weights[i] > 0;
    }
  return any;
}

static gboolean
has_all_asking (const SwSplitPart *parts, gsize n)
{
  for (gsize i = 0; i < n; i++)
    if (!parts[i].has_asking)
      return FALSE;
  return TRUE;
}

static SwSplitRule
equally (gsize n, gint64 *out_weights)
{
  for (gsize i = 0; i < n; i++)
    out_weights[i] = 1;
  return SW_SPLIT_EQUALLY;
}

SwSplitRule
sw_split_weights (const SwSplitPart *parts, gsize n, gint64 *out_weights)
{
  g_return_val_if_fail (n >= 1, SW_SPLIT_EQUALLY);
  if (!has_all_asking (parts, n))
    return sw_split_weights_by_mass (parts, n, out_weights);
  if (weigh_all (parts, n, SW_SPLIT_BY_ASKING, out_weights))
    return SW_SPLIT_BY_ASKING;
  /* Prices of zero throughout are prices: mass is asked only where one is missing. */
  return equally (n, out_weights);
}

SwSplitRule
sw_split_weights_by_mass (const SwSplitPart *parts, gsize n, gint64 *out_weights)
{
  g_return_val_if_fail (n >= 1, SW_SPLIT_EQUALLY);
  if (weigh_all (parts, n, SW_SPLIT_BY_MASS, out_weights))
    return SW_SPLIT_BY_MASS;
  return equally (n, out_weights);
}
