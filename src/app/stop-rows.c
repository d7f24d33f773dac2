/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stops as rows. Words for bands stand here once, beside their symbols. */
#include "app/stop-rows.h"

#include "app/text.h"

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

char *
sw_stop_title (const SwStopRecord *stop)
{
  if (stop->name == NULL)
    return g_strdup (_ ("No item"));
  if (stop->is_new && stop->item == 0)
    return g_strdup_printf (_ ("New: %s"), stop->name);
  return g_strdup (stop->name);
}

typedef struct
{
  GPtrArray *stops; /* all, owned */
  GArray *shown;    /* guint indices */
} Data;

static void
data_free (gpointer data)
{
  Data *self = data;
  g_ptr_array_unref (self->stops);
  g_array_unref (self->shown);
  g_free (self);
}

static const SwStopRecord *
stop_at (gpointer data, guint i)
{
  const Data *self = data;
  return g_ptr_array_index (self->stops, g_array_index (self->shown, guint, i));
}

static SwRowKind
kind (gpointer data, guint i)
{
  return SW_ROW_STOP;
}

static gint64
key (gpointer data, guint i)
{
  return stop_at (data, i)->position;
}

static void
face (gpointer data, guint i, SwRowFace *out_face)
{
  const SwStopRecord *stop = stop_at (data, i);
  g_autofree char *photos = sw_text_count (stop->photos->len, _ ("photo"), _ ("photos"));

  out_face->title = sw_stop_title (stop);
  out_face->trail = g_strdup (photos);
  out_face->icon = sw_stop_icon (stop);
  out_face->word = sw_stop_word (stop);
  out_face->detail = g_strdup (stop->place_path != NULL ? stop->place_path : _ ("place unknown"));
  out_face->reason = g_strdup (stop->reason);
  out_face->done = stop->n_open == 0;
  out_face->n_pictures = (int)MIN (stop->photos->len, SW_ROW_PICTURES);
  out_face->n_more = (int)stop->photos->len - out_face->n_pictures;
  for (int p = 0; p < out_face->n_pictures; p++)
    out_face->pictures[p] = g_array_index (stop->photos, gint64, p);
  out_face->sentence
      = g_strdup_printf (_ ("Stop %d, %s, %s, %s, %s, %s"), stop->position, out_face->title,
                         out_face->word, out_face->detail, photos, stop->reason);
}

static const SwRowsFuncs funcs = { kind, key, face };

SwRows *
sw_stop_rows_new (GPtrArray *stops, gboolean open_only)
{
  Data *data = g_new0 (Data, 1);

  data->stops = stops;
  data->shown = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < stops->len; i++)
    {
      const SwStopRecord *stop = g_ptr_array_index (stops, i);
      if (!open_only || stop->n_open > 0)
        g_array_append_val (data->shown, i);
    }
  return sw_rows_new (data->shown->len, &funcs, data, data_free);
}
