/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names close to what a person typed. See near.h. */
#include "core/catalogue/near.h"
#include "core/base/language.h"

#include <string.h>

#include "core/base/text.h"

#define NEAR_MAX 3
/* Longer names are compared by their beginning: the table below stays small whatever is typed. */
#define NEAR_LETTERS 64

typedef struct
{
  char *name;
  int rank; /* 0 same but for case, 1 prefix, 2 + edit distance */
} Candidate;

struct _SwNear
{
  char *folded;
  gunichar letters[NEAR_LETTERS];
  int n_letters;
  Candidate best[NEAR_MAX];
  int n_best;
};

static char *
fold (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_autofree char *tidy = sw_text_tidy (valid);
  return g_utf8_casefold (tidy, -1);
}

static int
letters_of (const char *text, gunichar *letters)
{
  int n = 0;
  for (const char *p = text; *p != '\0' && n < NEAR_LETTERS; p = g_utf8_next_char (p))
    letters[n++] = g_utf8_get_char (p);
  return n;
}

/* Optimal string alignment: the restricted form of Damerau's distance (each pair of neighbours
 * swapped at most once). */
static int
distance (const gunichar *a, int n_a, const gunichar *b, int n_b)
{
  int rows[3][NEAR_LETTERS + 1];
  int *before = rows[0], *above = rows[1], *here = rows[2];
  for (int j = 0; j <= n_b; j++)
    above[j] = before[j] = j;
  for (int i = 1; i <= n_a; i++)
    {
      here[0] = i;
      for (int j = 1; j <= n_b; j++)
        {
          int cost = a[i - 1] == b[j - 1] ? 0 : 1;
          here[j] = MIN (MIN (above[j] + 1, here[j - 1] + 1), above[j - 1] + cost);
          if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
            here[j] = MIN (here[j], before[j - 2] + 1);
        }
      int *spare = before;
      before = above;
      above = here;
      here = spare;
    }
  return above[n_b];
}

/* A letter or two begin too much to be meant. */
static gboolean
begins_with (const char *text, const char *beginning)
{
  return strlen (beginning) > 2 && g_str_has_prefix (text, beginning);
}

static int
rank_of (const SwNear *near_names, const char *name)
{
  g_autofree char *folded = fold (name);
  if (strcmp (folded, near_names->folded) == 0)
    return 0;
  if (begins_with (folded, near_names->folded) || begins_with (near_names->folded, folded))
    return 1;
  gunichar letters[NEAR_LETTERS];
  int n = letters_of (folded, letters);
  int far = distance (near_names->letters, near_names->n_letters, letters, n);
  return far <= MAX (1, near_names->n_letters / 4) ? 2 + far : -1;
}

SwNear *
sw_near_new (const char *typed)
{
  SwNear *near_names = g_new0 (SwNear, 1);
  near_names->folded = fold (typed);
  near_names->n_letters = letters_of (near_names->folded, near_names->letters);
  return near_names;
}

void
sw_near_free (SwNear *near_names)
{
  if (near_names == NULL)
    return;
  for (int i = 0; i < near_names->n_best; i++)
    g_free (near_names->best[i].name);
  g_free (near_names->folded);
  g_free (near_names);
}

void
sw_near_consider (SwNear *near_names, const char *name)
{
  int rank = rank_of (near_names, name);
  if (rank < 0)
    return;
  int at = near_names->n_best;
  while (at > 0 && near_names->best[at - 1].rank > rank)
    at--;
  if (at == NEAR_MAX)
    return;
  if (near_names->n_best == NEAR_MAX)
    g_free (near_names->best[--near_names->n_best].name);
  for (int i = near_names->n_best; i > at; i--)
    near_names->best[i] = near_names->best[i - 1];
  near_names->best[at] = (Candidate){ g_strdup (name), rank };
  near_names->n_best++;
}

char *
sw_near_words (const SwNear *near_names)
{
  if (near_names->n_best == 0)
    return NULL;
  GString *words = g_string_new (NULL);
  for (int i = 0; i < near_names->n_best; i++)
    {
      const char *between = i == 0 ? "" : i + 1 < near_names->n_best ? ", " : _ (" or ");
      g_string_append_printf (words, "%s'%s'", between, near_names->best[i].name);
    }
  return g_string_free (words, FALSE);
}

gboolean
sw_near_is_number (const char *text, gint64 *out_number)
{
  gsize n = strlen (text);
  if (n == 0 || n > 18 || strspn (text, "0123456789") != n)
    return FALSE;
  *out_number = g_ascii_strtoll (text, NULL, 10);
  return TRUE;
}
