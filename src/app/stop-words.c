/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words of stops and of what stands on the strip. Words for bands stand here once, beside their
 * symbols. */
#include "app/stop-words.h"

#include "app/text.h"
#include "core/catalogue/photo-quality.h"

static const struct
{
  const char *band, *word, *icon;
} bands[] = {
  { "sure", N_ ("Sure"), "sw-sure-symbolic" },
  { "doubtful", N_ ("Doubtful"), "sw-doubtful-symbolic" },
  { "unknown", N_ ("Unknown"), "sw-unknown-symbolic" },
};

const char *
sw_stop_word (const SwStopRecord *stop)
{
  if (stop->n_open == 0)
    return _ ("Decided");
  for (guint i = 0; i < G_N_ELEMENTS (bands); i++)
    if (g_strcmp0 (stop->band, bands[i].band) == 0)
      return _ (bands[i].word);
  return _ ("Unknown");
}

const char *
sw_stop_icon (const SwStopRecord *stop)
{
  if (stop->n_open == 0)
    return "sw-ready-symbolic";
  for (guint i = 0; i < G_N_ELEMENTS (bands); i++)
    if (g_strcmp0 (stop->band, bands[i].band) == 0)
      return bands[i].icon;
  return "sw-unknown-symbolic";
}

static const char *
no_item_word (const char *kind)
{
  static const struct
  {
    const char *kind, *word;
  } kinds[] = {
    { "building", N_ ("Building") },
    { "paper", N_ ("Paper") },
    { "receipt", N_ ("Receipt") },
    { "mistake", N_ ("Mistake") },
  };

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_strcmp0 (kind, kinds[i].kind) == 0)
      return _ (kinds[i].word);
  return _ ("No item");
}

static char *
own_title (const SwStopRecord *stop)
{
  if (stop->n_open == 0 && stop->decided_name == NULL && stop->has_cost)
    return g_strdup (_ ("Receipt with its cost"));
  if (stop->n_open == 0)
    return g_strdup (stop->decided_name != NULL ? stop->decided_name
                                                : no_item_word (stop->no_item_kind));
  if (stop->name == NULL)
    return g_strdup (_ ("No item"));
  if (stop->is_new && stop->item == 0)
    return g_strdup_printf (_ ("New: %s"), stop->name);
  return g_strdup (stop->name);
}

/* The things that are proposed beside the stop's own, each once; NULL: none. */
static char *
also_names (const SwStopRecord *stop)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint k = 0; k < stop->also->len; k++)
    {
      const SwStopAlso *also = g_ptr_array_index (stop->also, k);
      gboolean named = FALSE;

      for (guint j = 0; j < k && !named; j++)
        named = g_str_equal (((SwStopAlso *)g_ptr_array_index (stop->also, j))->name, also->name);
      if (!named)
        g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", also->name);
    }
  return names->len > 0 ? g_strdup (names->str) : NULL;
}

char *
sw_stop_title (const SwStopRecord *stop)
{
  char *own = own_title (stop);
  g_autofree char *names = stop->n_open > 0 ? also_names (stop) : NULL;

  if (names == NULL)
    return own;
  g_autofree char *first = own;
  return g_strdup_printf (_ ("%s, also %s"), first, names);
}

char *
sw_strip_time (gboolean timed, gint64 t_us, gboolean with_day)
{
  g_autoptr (GDateTime) at = NULL;

  if (!timed)
    return g_strdup ("");
  at = g_date_time_new_from_unix_utc (t_us / SW_US_PER_SECOND);
  return at != NULL ? g_date_time_format (at, with_day ? C_ ("date", "%a %-d %b %H:%M") : "%H:%M")
                    : g_strdup ("");
}

char *
sw_stop_sentence (const SwStopRecord *stop)
{
  g_autofree char *photos = sw_text_count (stop->photos->len, "%d photo", "%d photos");
  g_autofree char *title = sw_stop_title (stop);
  g_autofree char *time = sw_strip_time (stop->timed, stop->start_us, TRUE);

  return g_strdup_printf (_ ("Stop %d, %s, %s, %s, %s, %s, %s"), stop->position, title,
                          sw_stop_word (stop),
                          stop->place_path != NULL ? stop->place_path : _ ("place unknown"), photos,
                          stop->timed ? time : _ ("no time"), stop->reason);
}

static char *
file_sentence (const SwStripUnit *unit, const char *time)
{
  const char *word = unit->kind == SW_STRIP_MEMO   ? _ ("Voice memo")
                     : unit->kind == SW_STRIP_CLIP ? _ ("Clip")
                                                   : _ ("Raw file");

  return g_strdup_printf (_ ("%s %s, %s"), word, unit->file, time);
}

char *
sw_strip_unit_sentence (const SwStrip *strip, guint u)
{
  const SwStripUnit *unit = &g_array_index (strip->units, SwStripUnit, u);
  g_autoptr (GDateTime) at
      = unit->timed ? g_date_time_new_from_unix_utc (unit->t_us / SW_US_PER_SECOND) : NULL;
  g_autofree char *time
      = at != NULL ? g_date_time_format (at, "%H:%M:%S") : g_strdup (_ ("no time"));
  const char *mark = sw_photo_mark_word (unit->marks);
  const SwStopRecord *stop;
  g_autofree char *title = NULL;

  if (unit->file != NULL)
    return file_sentence (unit, time);
  if (unit->stop < 0)
    return g_strdup_printf (_ ("Photo, %s, not sorted yet"), time);
  stop = g_ptr_array_index (strip->stops, (guint)unit->stop);
  title = sw_stop_title (stop);
  return g_strdup_printf (_ ("Photo %d of %u of stop %d, %s, %s, %s%s%s"), unit->n_in_stop,
                          stop->photos->len, stop->position, time,
                          unit->decided != SW_STOP_OPEN ? _ ("Decided") : sw_stop_word (stop),
                          title, mark != NULL ? ", " : "", mark != NULL ? _ (mark) : "");
}

char *
sw_strip_left_text (const SwStripLeft *left)
{
  g_autofree char *stops = sw_text_count (left->open, "%d stop to decide", "%d stops to decide");
  GString *text;

  if (left->stops == 0)
    return g_strdup ("");
  if (left->open == 0)
    return sw_text_count (left->stops, "%d stop, all decided", "%d stops, all decided");
  text = g_string_new (stops);
  if (left->doubtful > 0)
    g_string_append_printf (text, _ (", %d doubtful"), left->doubtful);
  if (left->unknown > 0)
    g_string_append_printf (text, _ (", %d unknown"), left->unknown);
  return g_string_free (text, FALSE);
}
