/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads the table of states.h. Knows no item and no rule beyond where a state leads. */
#include "core/catalogue/states.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

typedef struct
{
  const char *key, *word, *icon;
  guint next;
} StateRow;

#define SW_STATE_AS_ROW(tag, key, word, icon, next) { key, word, icon, next },
static const StateRow rows[] = { SW_ITEM_STATES (SW_STATE_AS_ROW) };
G_STATIC_ASSERT (G_N_ELEMENTS (rows) == SW_N_STATES);
/* sw_state_next is a set of bits */
G_STATIC_ASSERT (SW_N_STATES < 32);

const char *
sw_state_key (SwState state)
{
  g_return_val_if_fail (state < SW_N_STATES, NULL);
  return rows[state].key;
}

const char *
sw_state_word (SwState state)
{
  g_return_val_if_fail (state < SW_N_STATES, NULL);
  return rows[state].word;
}

const char *
sw_state_icon (SwState state)
{
  g_return_val_if_fail (state < SW_N_STATES, NULL);
  return rows[state].icon;
}

guint
sw_state_next (SwState state)
{
  g_return_val_if_fail (state < SW_N_STATES, 0);
  return rows[state].next;
}

gboolean
sw_state_from_key (const char *key, SwState *out_state)
{
  g_return_val_if_fail (key != NULL, FALSE);
  for (guint s = 0; s < SW_N_STATES; s++)
    if (g_str_equal (rows[s].key, key))
      {
        if (out_state != NULL)
          *out_state = s;
        return TRUE;
      }
  return FALSE;
}

/* "A, B or C" of the states whose bit is set. */
static char *
words_of (guint bits)
{
  GString *text = g_string_new (NULL);
  guint left = (guint)__builtin_popcount (bits);
  for (guint s = 0; s < SW_N_STATES; s++)
    {
      if ((bits & (1u << s)) == 0)
        continue;
      g_string_append (text, rows[s].word);
      left--;
      if (left > 0)
        g_string_append (text, left == 1 ? _ (" or ") : ", ");
    }
  return g_string_free (text, FALSE);
}

gboolean
sw_state_parse (const char *word, SwState *out_state, GError **error)
{
  g_return_val_if_fail (word != NULL, FALSE);
  for (guint s = 0; s < SW_N_STATES; s++)
    if (sw_text_same_name (rows[s].word, word))
      {
        if (out_state != NULL)
          *out_state = s;
        return TRUE;
      }
  g_autofree char *shown = sw_text_printable (word, -1);
  g_autofree char *all = words_of ((1u << SW_N_STATES) - 1);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("There is no state '%.80s'; the states are %s."), shown, all);
  return FALSE;
}

gboolean
sw_state_stands (SwState state)
{
  return sw_state_next (state) != 0 && state != SW_STATE_HANDED_OVER && state != SW_STATE_MISSING;
}

char *
sw_state_next_words (SwState state)
{
  return words_of (sw_state_next (state));
}
