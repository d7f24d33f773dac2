/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A row of the closing night: countdown, result, what is asked, interest, mass and floor. */
#include "app/night-rows.h"

#include "app/clock.h"
#include "app/offer-words.h"
#include "app/text.h"

typedef struct
{
  SwStore *store;
  const SwNight *night;
  GArray
      *keys; /* gint64: as they stood, since the list asks for them after the night has new rows */
} Data;

static void
data_free (gpointer data)
{
  g_object_unref (((Data *)data)->store);
  g_array_unref (((Data *)data)->keys);
  g_free (data);
}

static SwRowKind
kind (gpointer data, guint i)
{
  return SW_ROW_OFFER;
}

static gint64
key (gpointer data, guint i)
{
  return g_array_index (((Data *)data)->keys, gint64, i);
}

static void
add (GString *text, const char *part)
{
  if (part != NULL && *part != '\0')
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", part);
}

/* "not confirmed yet, A12 / B-4471 at Hill Road, starts at 50.00": after the result. */
static char *
detail (const Data *self, const SwRunRow *row, SwNightStand stand)
{
  GString *text = g_string_new (NULL);
  g_autofree char *amount
      = stand.result == SW_RESULT_SOLD ? sw_store_money (self->store, stand.amount) : NULL;
  g_autofree char *asked = sw_words_asked (self->store, row);
  g_autofree char *ref = row->own_ref != NULL ? g_strdup_printf ("%s (%s)", row->ref, row->own_ref)
                                              : g_strdup (row->ref);

  add (text, amount);
  if (stand.has_verdict)
    add (text, _ (sw_verdict_word (stand.verdict)));
  if (stand.booked)
    add (text, _ ("confirmed"));
  add (text, ref);
  add (text, asked);
  return g_string_free (text, FALSE);
}

/* What a verdict is given by: once it did not sell, the van in place of the interest. */
static char *
below (const Data *self, const SwRunRow *row, SwNightStand stand)
{
  GString *text = g_string_new (NULL);
  g_autofree char *drawn = sw_words_drawn (self->store, row);
  g_autofree char *weight = sw_words_weight (self->store, row);

  if (stand.result != SW_RESULT_NO_SALE)
    add (text, drawn);
  add (text, weight);
  if (stand.result == SW_RESULT_NO_SALE)
    {
      g_autofree char *van = sw_words_van (row->van);
      add (text, van);
    }
  return g_string_free (text, FALSE);
}

static char *
sentence (const SwRunRow *row, const char *closes, const char *stands, const char *asked,
          const SwRowFace *face)
{
  GString *text = g_string_new (row->items);

  add (text, closes);
  add (text, stands);
  add (text, face->below_word);
  add (text, row->outlet_name);
  add (text, row->own_ref);
  add (text, asked);
  add (text, face->below);
  return g_string_free (text, FALSE);
}

static void
fill_face (const Data *self, guint i, SwRowFace *out_face)
{
  const SwRunRow *row = sw_night_row (self->night, i);
  SwNightStand stand = sw_night_stand (self->night, i);
  SwInstant now = sw_clock_now ();
  g_autofree char *asked = sw_words_asked (self->store, row);
  g_autofree char *stands = sw_words_stand (self->store, stand);
  g_autofree char *closes
      = row->has_closes ? sw_night_countdown_words (row->closes, now) : g_strdup (_ ("running"));

  out_face->title = g_strdup (row->items);
  if (row->has_closes)
    out_face->trail = sw_night_countdown (row->closes, now);
  out_face->icon = sw_words_stand_icon (stand);
  out_face->word = sw_words_stand_word (stand);
  out_face->detail = detail (self, row, stand);
  if (row->to_withdraw)
    {
      out_face->below_icon = "sw-doubtful-symbolic";
      out_face->below_word = _ ("To withdraw");
    }
  else if (row->against_floor == SW_FLOOR_BELOW)
    {
      out_face->below_icon = "sw-below-symbolic";
      out_face->below_word = _ ("Under the floor");
    }
  out_face->below = below (self, row, stand);
  out_face->picture = row->photo;
  out_face->done = stand.booked;
  out_face->sentence = sentence (row, closes, stands, asked, out_face);
}

static void
face (gpointer data, guint i, SwRowFace *out_face)
{
  int at = sw_night_find (((const Data *)data)->night, key (data, i));

  if (at >= 0)
    fill_face (data, (guint)at, out_face);
}

static const SwRowsFuncs funcs = { kind, key, face };

SwRows *
sw_night_rows_new (SwStore *store, const SwNight *night)
{
  Data *data = g_new0 (Data, 1);

  data->store = g_object_ref (store);
  data->night = night;
  data->keys = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint i = 0; i < sw_night_count (night); i++)
    g_array_append_val (data->keys, sw_night_row (night, i)->deal);
  return sw_rows_new (sw_night_count (night), &funcs, data, data_free);
}
