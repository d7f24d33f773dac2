/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joins a place's figures into words. */
#include "app/place-words.h"

#include "app/text.h"

static SwPlaceStatus
status_of (const SwPlaceSummary *summary)
{
  return summary != NULL ? summary->status : SW_PLACE_NOT_WALKED;
}

/* "Not walked yet", "Empty, 12 gone"; NULL where something stands. */
static char *
nothing_stands (const SwPlaceSummary *summary)
{
  const char *word = _ (sw_place_status_word (status_of (summary)));

  if (summary == NULL || summary->status == SW_PLACE_NOT_WALKED)
    return g_strdup (word);
  if (summary->items == 0 && summary->status == SW_PLACE_ELSEWHERE)
    return g_strdup (word);
  if (summary->items == 0)
    return g_strdup_printf (_ ("%s, nothing found"), word);
  if (summary->standing == 0)
    return g_strdup_printf (_ ("%s, %d gone"), word, summary->items);
  return NULL;
}

char *
sw_place_words_standing (const SwPlaceSummary *summary)
{
  char *none = nothing_stands (summary);

  return none != NULL ? none
                      : g_strdup_printf (_ ("%s, %d of %d still stand"),
                                         _ (sw_place_status_word (summary->status)),
                                         summary->standing, summary->items);
}

char *
sw_place_words_standing_short (const SwPlaceSummary *summary)
{
  char *none = nothing_stands (summary);

  return none != NULL
             ? none
             : g_strdup_printf (_ ("%s, %d of %d"), _ (sw_place_status_word (summary->status)),
                                summary->standing, summary->items);
}

static void
add_count (GString *text, int n, char *words)
{
  if (n > 0)
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", words);
  g_free (words);
}

char *
sw_place_words_waits (const SwPlaceSummary *summary)
{
  g_autoptr (GString) text = g_string_new (NULL);

  if (summary == NULL)
    return NULL;
  add_count (text, summary->to_decide,
             sw_text_count (summary->to_decide, "%d to decide", "%d to decide"));
  add_count (text, summary->to_photograph,
             sw_text_count (summary->to_photograph, "%d to photograph", "%d to photograph"));
  add_count (text, summary->to_collect,
             sw_text_count (summary->to_collect, "%d to collect", "%d to collect"));
  return text->len > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

char *
sw_place_words_worth (SwStore *store, const SwPlaceSummary *summary)
{
  g_autofree char *money = NULL, *mass = NULL;

  if (summary != NULL && summary->asking.minor != 0)
    money = sw_store_money (store, summary->asking);
  if (summary != NULL && summary->mass.ug != 0)
    mass = sw_mass_to_rough_text (summary->mass);
  if (money != NULL && mass != NULL)
    return g_strdup_printf (_ ("%s, %s"), money, mass);
  return money != NULL ? g_steal_pointer (&money) : g_steal_pointer (&mass);
}

char *
sw_place_words_sentence (SwStore *store, const SwPlace *place, const SwPlaceSummary *summary,
                         const char *walk)
{
  g_autofree char *stand = sw_place_words_standing (summary);
  g_autofree char *waits = sw_place_words_waits (summary);
  GString *text = g_string_new (place->path);

  stand[0] = g_ascii_tolower (stand[0]);
  g_string_append_printf (text, ", %s", stand);
  if (summary != NULL && summary->asking.minor != 0)
    {
      g_autofree char *money = sw_store_money_with_code (store, summary->asking);
      g_string_append_printf (text, _ (", asking %s"), money);
    }
  if (summary != NULL && summary->mass.ug != 0)
    {
      g_autofree char *mass = sw_mass_to_rough_text (summary->mass);
      g_string_append_printf (text, ", %s", mass);
    }
  if (waits != NULL)
    g_string_append_printf (text, ", %s", waits);
  if (walk != NULL)
    g_string_append_printf (text, _ (", walk at %s"), walk);
  return g_string_free (text, FALSE);
}
