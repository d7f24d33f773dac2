/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of what Ready needs, asked of one item. */
#include "core/catalogue/ready.h"
#include "core/base/language.h"

#define LACKING_AS_ROW(tag, lacking) lacking,
static const char *const lacking[] = { SW_READY_NEEDS (LACKING_AS_ROW) };

/* What somebody says is theirs for sure hinders the offer, not the readiness. */
guint
sw_item_lacks (const SwItem *item)
{
  const gboolean lacks[SW_N_READY_NEEDS] = {
    [SW_READY_NAME] = item->neutral,
    [SW_READY_PLACE] = item->place == 0,
    [SW_READY_COUNT] = item->count < 1,
    [SW_READY_ASKING] = !item->has_asking,
    [SW_READY_CLAIM] = item->claim == SW_CLAIM_OPEN,
  };
  guint bits = 0;

  for (int i = 0; i < SW_N_READY_NEEDS; i++)
    if (lacks[i])
      bits |= 1u << i;
  return bits;
}

char *
sw_ready_lacking_words (guint lacks)
{
  g_autoptr (GString) words = g_string_new (NULL);
  guint left = 0;

  for (int i = 0; i < SW_N_READY_NEEDS; i++)
    left += (lacks >> i) & 1u;
  for (int i = 0; i < SW_N_READY_NEEDS; i++)
    {
      if (!(lacks & (1u << i)))
        continue;
      if (words->len > 0)
        g_string_append (words, left == 1 ? _ (" and ") : ", ");
      g_string_append (words, _ (lacking[i]));
      left--;
    }
  return words->len > 0 ? g_string_free (g_steal_pointer (&words), FALSE) : NULL;
}
