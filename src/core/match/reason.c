/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reasons in plain words: one line a stop, some lines a photo. Says only what the model used. Must
 * not decide. */
#include "core/match/model-private.h"
#include "core/match/stops.h"

#include "core/base/civil.h"
#include "core/base/language.h"

#include <math.h>

/* "14 s", "3 min", "3 min 20 s", "1 h", "1 h 5 min", "2 days". Transfer full. */
static char *
length_text (double seconds)
{
  gint64 s = (gint64)llrint (fabs (seconds));

  if (s < 100)
    return g_strdup_printf ("%d s", (int)s);
  if (s < 3600)
    return s % 60 && s < 600 ? g_strdup_printf (_ ("%d min %d s"), (int)(s / 60), (int)(s % 60))
                             : g_strdup_printf (_ ("%d min"), (int)((s + 30) / 60));
  if (s < 86400)
    return (s + 30) / 60 % 60 ? g_strdup_printf (_ ("%d h %d min"), (int)((s + 30) / 3600),
                                                 (int)((s + 30) / 60 % 60))
                              : g_strdup_printf ("%d h", (int)((s + 30) / 3600));
  return (s + 1800) / 86400 == 1 ? g_strdup ("1 day")
                                 : g_strdup_printf (_ ("%d days"), (int)((s + 1800) / 86400));
}

static char *
clock_text (gint64 us)
{
  SwCivil civil = sw_civil_from_us (us);

  return g_strdup_printf ("%02d:%02d", civil.hour, civil.minute);
}

static const char *
place_name (const SwWalk *walk, int place)
{
  return place >= 0 && walk->places[place].name ? walk->places[place].name : NULL;
}

static const char *
label_name (const SwWalk *walk, int label)
{
  if (label == SW_LABEL_NEW)
    return _ ("a new thing");
  if (label == SW_LABEL_NONE)
    return _ ("no item");
  return walk->items[label].name ? walk->items[label].name : _ ("an item");
}

static void
add_part (GString *line, const char *part)
{
  if (line->len > 0)
    g_string_append (line, ", ");
  g_string_append (line, part);
}

/* How the note lies to the stop. */
static void
add_lag (GString *line, const SwWalk *walk, const SwStop *stop)
{
  const SwWalkNote *note = &walk->notes[stop->note];
  double before_s = (double)(stop->first_us - note->time_us) / 1e6;
  double after_s = (double)(note->time_us - stop->last_us) / 1e6;
  g_autofree char *text = NULL, *part = NULL;

  if (note->resolution_us >= 60 * SW_US_PER_SECOND && before_s > -60 && after_s < 60
      && MAX (before_s, after_s) < 60)
    part = g_strdup (_ ("in the minute of your note"));
  else if (before_s >= 0)
    {
      text = length_text (before_s);
      part = g_strdup_printf (_ ("%s after your note"), text);
    }
  else if (after_s >= 0)
    {
      text = length_text (after_s);
      part = g_strdup_printf (_ ("%s before your note"), text);
    }
  else
    part = g_strdup (_ ("your note falls among these photos"));
  add_part (line, part);
}

/* The visit: stops around this one that lie in the same place without a break in between. */
static void
add_visit (GString *line, const SwWalk *walk, const SwProposal *proposal, const SwStop *stop)
{
  gsize at = (gsize)(stop - proposal->stops), first = at, last = at;
  const char *name = place_name (walk, stop->place);
  g_autofree char *from = NULL, *upto = NULL, *part = NULL;

  if (name == NULL || !stop->timed)
    return;
  while (first > 0 && proposal->stops[first - 1].place == stop->place
         && proposal->stops[first].first_us - proposal->stops[first - 1].last_us
                < 3600 * SW_US_PER_SECOND)
    first--;
  while (last + 1 < proposal->n_stops && proposal->stops[last + 1].place == stop->place
         && proposal->stops[last + 1].timed
         && proposal->stops[last + 1].first_us - proposal->stops[last].last_us
                < 3600 * SW_US_PER_SECOND)
    last++;
  if (first == last)
    return;
  from = clock_text (proposal->stops[first].first_us);
  upto = clock_text (proposal->stops[last].last_us);
  part = g_strdup_printf (_ ("inside %s %s to %s"), name, from, upto);
  add_part (line, part);
}

/* The card that tells the place, and how long before it was photographed. FALSE: none does. */
static gboolean
add_card (GString *line, const SwWalk *walk, const SwProposal *proposal, const SwStop *stop)
{
  const SwWalkPhoto *photo = &walk->photos[stop->photos[0]];
  const SwPhotoView *here = &proposal->views[stop->photos[0]], *there;
  const char *name = place_name (walk, photo->place), *what;
  g_autofree char *length = NULL, *part = NULL;

  if (photo->card == 0 || name == NULL || stop->place != photo->place)
    return FALSE;
  there = &proposal->views[photo->card - 1];
  what = walk->photos[photo->card - 1].of_place ? _ ("your photo") : _ ("the card");
  if (photo->is_card || photo->of_place || !here->timed || !there->timed)
    part = g_strdup_printf (_ ("%s of %s"), what, name);
  else
    {
      length = length_text ((double)(here->t_us - there->t_us) / 1e6);
      part = g_strdup_printf (_ ("%s of %s, %s before"), what, name, length);
    }
  add_part (line, part);
  return TRUE;
}

static void
add_tag (GString *line, const SwStop *stop)
{
  g_autofree char *part
      = stop->tag_at == 0
            ? g_strdup_printf (_ ("tag %d in the first photo"), stop->tag)
            : g_strdup_printf (_ ("tag %d in photo %d"), stop->tag, (int)stop->tag_at + 1);

  add_part (line, part);
}

static void
add_clock (GString *line, const SwProposal *proposal, const SwStop *stop)
{
  double shift_s = proposal->views[stop->photos[0]].shift_s;
  g_autofree char *text = NULL, *part = NULL;

  if (fabs (shift_s) < 20)
    return;
  text = length_text (shift_s);
  part = g_strdup_printf (shift_s < 0 ? _ ("clock put back %s") : _ ("clock put forward %s"), text);
  add_part (line, part);
}

static void
add_gaps (GString *line, const SwProposal *proposal, const SwStop *stop)
{
  double before = proposal->views[stop->photos[0]].gap_before_s;
  double after = proposal->views[stop->photos[stop->n_photos - 1]].gap_after_s;
  g_autofree char *first = before >= 0 ? length_text (before) : NULL;
  g_autofree char *second = after >= 0 ? length_text (after) : NULL;
  g_autofree char *part = NULL;

  if (first && second)
    part = g_strdup_printf (_ ("a pause of %s before and of %s after"), first, second);
  else if (first || second)
    part = g_strdup_printf (first ? _ ("a pause of %s before") : _ ("a pause of %s after"),
                            first ? first : second);
  else
    part = g_strdup (_ ("the only photos by this clock"));
  add_part (line, part);
}

static void
add_decided (GString *line, const SwWalk *walk, const SwStop *stop)
{
  gsize count = 0;
  g_autofree char *part = NULL;

  for (gsize k = 0; k < stop->n_photos; k++)
    count += walk->photos[stop->photos[k]].decided != SW_WALK_OPEN;
  if (count == stop->n_photos)
    part = g_strdup (_ ("decided before"));
  else
    part = g_strdup_printf (_ ("%d of its %d photos decided before"), (int)count,
                            (int)stop->n_photos);
  add_part (line, part);
}

static void
add_repair (GString *line, const SwProposal *proposal, const SwStop *stop)
{
  gsize count = 0;

  for (gsize k = 0; k < stop->n_photos; k++)
    count += proposal->views[stop->photos[k]].repaired;
  if (count == 1)
    add_part (line, _ ("one photo's time taken from the photos around it"));
  else if (count > 1)
    add_part (line, _ ("times taken from the photos around them"));
}

static void
add_likeness (GString *line, const SwProposal *proposal, const SwStop *stop)
{
  gsize count = 0;
  g_autofree char *part = NULL;

  for (gsize k = 0; k < stop->n_photos; k++)
    count += proposal->views[stop->photos[k]].by_likeness;
  if (count == 0)
    return;
  part = count == 1 ? g_strdup (_ ("one photo put here because it looks the same as another"))
                    : g_strdup_printf (
                        _ ("%d photos put here because they look the same as others"), (int)count);
  add_part (line, part);
}

static gboolean
is_weak (const SwWalk *walk, const SwProposal *proposal, const SwStop *stop)
{
  for (gsize k = 0; k < stop->n_photos; k++)
    if (walk->photos[stop->photos[k]].time_kind == SW_WALK_TIME_WEAK
        && !proposal->views[stop->photos[k]].by_likeness)
      return TRUE;
  return FALSE;
}

char *
sw_stops_reason (const SwWalk *walk, const SwProposal *proposal, const SwStop *stop)
{
  GString *line = g_string_new (NULL);

  gboolean card = walk->photos[stop->photos[0]].is_card;

  if (stop->decided)
    add_decided (line, walk, stop);
  if (stop->tag != 0)
    add_tag (line, stop);
  if (stop->decided || card)
    ;
  else if (!stop->timed)
    add_part (line, _ ("no time to go by"));
  else if (stop->note >= 0)
    add_lag (line, walk, stop);
  else if (stop->tag == 0)
    {
      add_part (line, walk->n_notes > 0 ? _ ("no note fits") : _ ("no notes"));
      add_gaps (line, proposal, stop);
    }
  if (!add_card (line, walk, proposal, stop) && stop->timed)
    add_visit (line, walk, proposal, stop);
  if (stop->timed)
    {
      add_clock (line, proposal, stop);
      add_repair (line, proposal, stop);
      if (is_weak (walk, proposal, stop))
        add_part (line, _ ("by the file's own time only"));
    }
  add_likeness (line, proposal, stop);
  return g_string_free (line, FALSE);
}

/* "12 to 1 for", "3.5 to 1 against", "nothing either way". Transfer full. */
static char *
odds_text (double odds)
{
  double strong = odds >= 1 ? odds : 1 / MAX (odds, 1e-300);
  const char *side = odds >= 1 ? C_ ("evidence", "for") : C_ ("evidence", "against");

  if (strong < 1.05)
    return g_strdup (_ ("nothing either way"));
  if (strong >= 1e6)
    return g_strdup_printf (_ ("over a million to 1 %s"), side);
  return strong < 10 ? g_strdup_printf ("%.1f to 1 %s", strong, side)
                     : g_strdup_printf ("%.0f to 1 %s", strong, side);
}

static void
explain_odds (GString *text, const char *what, double odds)
{
  g_autofree char *weight = odds_text (odds);

  g_string_append_printf (text, "  %s: %s.\n", what, weight);
}

/* What lies between the photo and a neighbour, each with its weight for one stop going on. */
static void
explain_gap (GString *text, const char *where, double gap_s, const SwGapWeights *weights,
             double boundary)
{
  g_autofree char *length = NULL, *pictures = NULL, *way = NULL;

  if (gap_s < 0)
    {
      g_string_append_printf (text, _ ("No photo %s by the clocks that go with it.\n"), where);
      return;
    }
  length = length_text (gap_s);
  g_string_append_printf (text, _ ("%s to the photo %s: %.1f%% that another thing %s there.\n"),
                          length, where, 100 * boundary,
                          where[0] == 'b' ? C_ ("thing", "ended") : C_ ("thing", "begins"));
  if (weights->cut != 0)
    {
      g_string_append_printf (text, _ ("  You said that %s; nothing else counts.\n"),
                              weights->cut > 0 ? _ ("a stop begins there")
                                               : _ ("the stop goes on there"));
      return;
    }
  explain_odds (text, _ ("the pause, for the same thing"), 1 / MAX (weights->pause, 1e-300));
  if (weights->hand != 1)
    explain_odds (text, _ ("which cameras took them, for the same thing"), weights->hand);
  if (weights->bits >= 0)
    {
      pictures = g_strdup_printf (_ ("likeness (%d of 64 bits differ), for the same thing"),
                                  weights->bits);
      explain_odds (text, pictures, weights->alike);
    }
  if (weights->way_m >= 0)
    {
      way = g_strdup_printf (_ ("%.0f m between the positions, for the same thing"),
                             weights->way_m);
      explain_odds (text, way, weights->still);
    }
  if (weights->signs <= 0)
    g_string_append (text, _ ("  cards and tags: they rule the same thing out.\n"));
  else if (weights->signs < 1)
    explain_odds (text, _ ("cards and tags, for the same thing"), weights->signs);
}

/* What was written, when, and what that weighs. */
static void
explain_note (GString *text, const SwWalk *walk, const SwPhotoView *view, int label,
              const SwNoteWeights *weights)
{
  const SwWalkNote *note = &walk->notes[weights->note];
  const char *place = place_name (walk, note->place);
  g_autofree char *at = clock_text (note->time_us);
  g_autofree char *length = length_text ((double)(view->t_us - note->time_us) / 1e6);

  g_string_append_printf (text, _ ("Note '%s' of %s%s%s, %s %s this photo:\n"),
                          label_name (walk, label), at, place ? _ (" in ") : "", place ? place : "",
                          length, note->time_us <= view->t_us ? _ ("before") : _ ("after"));
  explain_odds (text, _ ("its time, against a note without photos"), weights->time);
  if (weights->place != 1)
    explain_odds (text, _ ("its place, against any place"), weights->place);
}

/* Where the photo was taken, as far as anything but notes tells. */
static void
explain_place (GString *text, const SwWalk *walk, const SwStop *stop, guint photo)
{
  const SwWalkPhoto *taken = &walk->photos[photo];
  const char *pinned = place_name (walk, taken->place), *name = place_name (walk, stop->place);

  if (pinned != NULL)
    g_string_append_printf (text, _ ("Place: %s says %s.\n"),
                            taken->card == 0                         ? "a person"
                            : walk->photos[taken->card - 1].of_place ? _ ("your photo of the place")
                                                                     : _ ("the card"),
                            pinned);
  if (!taken->has_position)
    return;
  g_string_append_printf (text, _ ("Position: a fix good to %.0f m.\n"), taken->error_m);
  if (name != NULL && walk->places[stop->place].has_position)
    {
      g_autofree char *what = g_strdup_printf (_ ("%s, against the other places"), name);

      explain_odds (text, what, sw_place_position_fit (walk, taken, stop->place));
    }
}

static void
explain_tags (GString *text, const SwWalk *walk, const SwProposal *proposal, guint photo)
{
  const SwWalkPhoto *taken = &walk->photos[photo];

  if (taken->is_card)
    g_string_append (text, _ ("It is the photo of a card: it shows no item.\n"));
  if (taken->tag != 0)
    g_string_append_printf (text, _ ("Tag %d: %s.\n"), taken->tag,
                            taken->bearer > 0 ? label_name (walk, taken->bearer - 1)
                                              : _ ("on no item yet, it names a new thing"));
  for (gsize k = 0; k < proposal->n_also; k++)
    {
      const SwAlso *also = &proposal->also[k];

      if (also->photo == photo && also->tag != 0)
        g_string_append_printf (text, _ ("Tag %d can be read in it too: it also shows %s.\n"),
                                also->tag,
                                also->item >= 0 ? label_name (walk, also->item) : _ ("its thing"));
      else if (also->photo == photo)
        g_string_append_printf (text, _ ("It also shows %s: you said so of the same picture.\n"),
                                label_name (walk, also->item));
    }
}

static void
explain_decided (GString *text, const SwWalk *walk, const SwPhotoView *view, guint photo)
{
  int decided = walk->photos[photo].decided;

  if (decided != SW_WALK_OPEN)
    g_string_append_printf (text, _ ("You decided it: %s. Nothing else counts.\n"),
                            label_name (walk, decided));
  else if (view->joined > 0.005)
    g_string_append_printf (text, _ ("%.1f%% that it goes on a stop beside it that you decided.\n"),
                            100 * view->joined);
  else
    g_string_append (text, _ ("Nobody decided it.\n"));
}

/* The likeliest thing and the runners-up, each with the note that speaks for it. */
static void
explain_labels (GString *text, const SwWalk *walk, const SwPhotoView *view)
{
  for (int k = 0; k < 3 && view->label_p[k] > (k < 2 ? 0 : 0.005); k++)
    {
      g_string_append_printf (text, k == 1 ? _ ("Runner-up: %.1f%% %s.\n") : "%.1f%% %s.\n",
                              100 * view->label_p[k], label_name (walk, view->labels[k]));
      if (view->noted[k])
        explain_note (text, walk, view, view->labels[k], &view->note_weights[k]);
    }
  if (view->label_p[1] <= 0)
    g_string_append (text, _ ("Runner-up: none.\n"));
}

static void
explain_clock (GString *text, const char *at, const SwPhotoView *view, const SwClockResult *clock)
{
  const SwClockCounts *counts = &clock->counts;

  if (!clock->known)
    {
      g_string_append_printf (
          text, _ ("Taken at %s by its own clock: nothing says whether it is right.\n"), at);
      return;
    }
  g_string_append_printf (text, _ ("Taken at %s: clock shift %+.1f s, give or take %.1f s.\n"), at,
                          view->shift_s, clock->spread_s);
  g_string_append_printf (
      text,
      _ ("For that clock speak %d notes (%d of them decided by hand), %d clocks "
         "read in pictures, %d position fixes, %d photos beside another "
         "camera's.\n"),
      counts->notes, counts->decided, counts->faces, counts->fixes, counts->beside);
  if (clock->beside_s > 0)
    g_string_append (text, _ ("It goes with the other camera; nothing tells how that one went.\n"));
  if (clock->drift_s_day != 0)
    g_string_append_printf (text, _ ("That clock %s %.1f s a day.\n"),
                            clock->drift_s_day > 0 ? _ ("loses") : _ ("gains"),
                            fabs (clock->drift_s_day));
  if (clock->other_share > 0)
    g_string_append_printf (text, _ ("The shift could also be %+.0f s (%.0f%%).\n"), clock->other_s,
                            100 * clock->other_share);
}

/* Where the photo's clock changed before it. */
static void
explain_parts (GString *text, const SwWalk *walk, const SwProposal *proposal, guint photo)
{
  for (gsize k = 0; k < proposal->n_parts; k++)
    {
      const SwClockPart *part = &proposal->parts[k];
      g_autofree char *at = clock_text (proposal->views[part->from].t_us);
      g_autofree char *length = length_text (part->step_s);

      if (part->camera == walk->photos[photo].camera && part->from <= photo)
        g_string_append_printf (text, _ ("Clock put %s %s from %s on.\n"),
                                part->step_s < 0 ? C_ ("clock", "back") : C_ ("clock", "forward"),
                                length, at);
    }
}

char *
sw_stops_explain (const SwWalk *walk, const SwProposal *proposal, guint photo)
{
  GString *text;
  const SwPhotoView *view;
  const SwStop *stop;
  const SwClockResult *clock;

  g_return_val_if_fail (photo < proposal->n_photos, NULL);
  text = g_string_new (NULL);
  view = &proposal->views[photo];
  stop = &proposal->stops[view->stop];
  clock = &proposal->clocks[walk->photos[photo].camera];
  g_string_append_printf (text, "%s: %.0f%%, %s: %s.\n", label_name (walk, stop->label),
                          100 * stop->probability, _ (sw_band_word (stop->band)), stop->reason);
  if (!view->timed)
    {
      g_string_append (text, _ ("It bears no time, and the photos around it give none.\n"));
      explain_tags (text, walk, proposal, photo);
      explain_decided (text, walk, view, photo);
      return g_string_free (text, FALSE);
    }
  g_autofree char *at = clock_text (view->t_us);
  explain_clock (text, at, view, clock);
  explain_parts (text, walk, proposal, photo);
  explain_gap (text, "before", view->gap_before_s, &view->before, view->boundary_before);
  explain_gap (text, "after", view->gap_after_s, &view->after, view->boundary_after);
  explain_labels (text, walk, view);
  explain_place (text, walk, stop, photo);
  explain_tags (text, walk, proposal, photo);
  explain_decided (text, walk, view, photo);
  return g_string_free (text, FALSE);
}
