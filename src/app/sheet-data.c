/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads an item's sheet. Runs on the catalogue thread; touches no widget. */
#include "app/sheet-data.h"

#include "app/text.h"
#include "core/base/text.h"
#include "core/catalogue/claims.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/prices.h"
#include "core/catalogue/questions.h"
#include "core/catalogue/steps.h"
#include "core/catalogue/tags.h"
#include "core/match/signs.h"

#include <string.h>

void
sw_sheet_data_free (gpointer data)
{
  SwSheetData *sheet = data;

  if (sheet == NULL)
    return;
  g_clear_pointer (&sheet->item, sw_item_free);
  g_free (sheet->photos);
  g_strfreev (sheet->captions);
  g_clear_pointer (&sheet->facts, g_ptr_array_unref);
  g_clear_pointer (&sheet->questions, g_ptr_array_unref);
  g_clear_pointer (&sheet->claims, g_ptr_array_unref);
  g_clear_pointer (&sheet->jobs, g_ptr_array_unref);
  g_clear_pointer (&sheet->prices, g_ptr_array_unref);
  sw_item_floor_clear (&sheet->floor);
  g_free (sheet->today);
  g_clear_pointer (&sheet->events, g_ptr_array_unref);
  g_strfreev (sheet->event_days);
  for (int i = 0; i < SW_N_STATES; i++)
    g_free (sheet->why_not[i]);
  g_free (sheet->origin);
  g_free (sheet->tags);
  g_free (sheet);
}

/* What was ignored of a code that it shows; NULL: nothing. */
static char *
code_remark (SwCatalogue *catalogue, const SwPhoto *photo)
{
  g_autoptr (GPtrArray) signs = sw_signs_load (catalogue, photo->trip, NULL);
  const SwSign *sign = signs != NULL ? sw_signs_find (signs, photo->id) : NULL;

  return sign != NULL ? g_strdup (sign->remark) : NULL;
}

char *
sw_photo_time_and_name (SwCatalogue *catalogue, const SwPhoto *photo)
{
  g_autofree char *base = g_path_get_basename (photo->file);
  g_autofree char *name = sw_text_printable (base, -1);
  g_autofree char *day = NULL;
  g_autoptr (GArray) clocks = sw_camera_clock_list (catalogue, NULL);
  SwInstant at;
  SwCivilKind kind;
  SwCivil civil;

  if (clocks == NULL || !sw_photo_property_time (catalogue, clocks, photo, &at, &kind))
    return g_strdup_printf (_ ("%s, no time"), name);
  civil = sw_civil_from_instant (at, sw_catalogue_zone (catalogue), NULL);
  day = sw_day_written (sw_day_of_instant (at, sw_catalogue_zone (catalogue)));
  return g_strdup_printf (_ ("%02d:%02d:%02d on %s, %s"), civil.hour, civil.minute, civil.second,
                          day, name);
}

/* The same picture saved again is worth a look before both go out with an offer. Transfer full. */
static char *
with_look_alikes (SwCatalogue *catalogue, const SwPhoto *photo, char *caption)
{
  g_autoptr (GPtrArray) files = sw_look_alike_files (catalogue, photo->id, NULL);
  g_autofree char *before = caption, *base = NULL, *name = NULL;

  if (files == NULL || files->len == 0)
    return g_steal_pointer (&before);
  base = g_path_get_basename (g_ptr_array_index (files, 0));
  name = sw_text_printable (base, -1);
  if (files->len == 1)
    return g_strdup_printf (_ ("%s, looks the same as %s"), before, name);
  return sw_text_counted (files->len - 1, "%s, looks the same as %s and %d more",
                          "%s, looks the same as %s and %d more", before, name,
                          (int)files->len - 1);
}

char *
sw_photo_caption (SwCatalogue *catalogue, const SwPhoto *photo)
{
  g_autofree char *caption
      = with_look_alikes (catalogue, photo, sw_photo_time_and_name (catalogue, photo));
  g_autofree char *remark = code_remark (catalogue, photo);

  return remark != NULL ? g_strdup_printf (_ ("%s: %s"), caption, remark)
                        : g_steal_pointer (&caption);
}

static gboolean
read_photos (SwCatalogue *catalogue, SwSheetData *sheet, GError **error)
{
  g_autoptr (GArray) numbers = sw_item_photos (catalogue, sheet->item->id, error);

  if (numbers == NULL)
    return FALSE;
  sheet->photos = g_new0 (gint64, numbers->len + 1);
  sheet->captions = g_new0 (char *, numbers->len + 1);
  for (guint i = 0; i < numbers->len; i++)
    {
      gint64 number = g_array_index (numbers, gint64, i);
      g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, number, error);
      if (photo == NULL)
        return FALSE;
      sheet->photos[i] = number;
      sheet->captions[i] = sw_photo_caption (catalogue, photo);
      sheet->n_photos++;
    }
  return TRUE;
}

static gboolean
read_history (SwCatalogue *catalogue, SwSheetData *sheet, GError **error)
{
  sheet->events = sw_events_of (catalogue, SW_SUBJECT_ITEM, sheet->item->id, error);
  if (sheet->events == NULL)
    return FALSE;
  sheet->event_days = g_new0 (char *, sheet->events->len + 1);
  for (guint i = 0; i < sheet->events->len; i++)
    {
      const SwEvent *event = g_ptr_array_index (sheet->events, i);
      SwDay day = event->has_day ? event->day
                                 : sw_day_of_instant (event->at, sw_catalogue_zone (catalogue));
      sheet->event_days[i] = sw_day_written (day);
    }
  return TRUE;
}

static gboolean
read_tags (SwCatalogue *catalogue, SwSheetData *sheet, GError **error)
{
  g_autoptr (GArray) tags = sw_tag_list (catalogue, error);
  g_autoptr (GString) text = g_string_new (NULL);

  if (tags == NULL)
    return FALSE;
  for (guint i = 0; i < tags->len; i++)
    {
      const SwTag *tag = &g_array_index (tags, SwTag, i);
      if (tag->item == sheet->item->id)
        g_string_append_printf (text, text->len > 0 ? _ (", tag %" PRId64) : _ ("tag %" PRId64),
                                tag->tag);
    }
  if (text->len > 0)
    sheet->tags = g_string_free (g_steal_pointer (&text), FALSE);
  return TRUE;
}

static void
read_steps (SwCatalogue *catalogue, SwSheetData *sheet)
{
  for (int i = 0; i < SW_N_STATES; i++)
    if (sw_state_next (sheet->item->state) & (1u << i))
      /* a sale by hand is asked for in a form and booked as a row of the money table */
      sheet->why_not[i] = sw_item_why_not (catalogue, sheet->item, (SwState)i, i != SW_STATE_SOLD);
}

static gboolean
read_said (SwCatalogue *catalogue, SwSheetData *sheet, GError **error)
{
  gint64 number = sheet->item->id;
  SwDay today = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));

  sheet->today = sw_day_written (today);
  return (sheet->facts = sw_fact_list (catalogue, number, error)) != NULL
         && (sheet->questions = sw_question_list (catalogue, number, error)) != NULL
         && (sheet->claims = sw_claim_list (catalogue, number, error)) != NULL
         && (sheet->jobs = sw_job_list (catalogue, number, error)) != NULL
         && (sheet->prices = sw_price_list (catalogue, number, error)) != NULL
         && sw_item_floor (catalogue, sheet->item, &sheet->floor, error);
}

gpointer
sw_sheet_data_read (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable,
                    GError **error)
{
  g_autoptr (SwSheetData) sheet = g_new0 (SwSheetData, 1);
  gint64 number = *(const gint64 *)data;

  sheet->item = sw_item_get (catalogue, number, error);
  if (sheet->item == NULL || !read_photos (catalogue, sheet, error)
      || !read_history (catalogue, sheet, error) || !read_tags (catalogue, sheet, error))
    return NULL;
  if (!read_said (catalogue, sheet, error))
    return NULL;
  if (sheet->item->has_asking
      && !sw_money_scale (sheet->item->asking, 1, MAX (1, sheet->item->count), SW_ROUND_HALF_UP,
                          &sheet->each, error))
    return NULL;
  if (sheet->item->origin != 0)
    {
      g_autoptr (SwItem) origin = sw_item_get (catalogue, sheet->item->origin, error);
      if (origin == NULL)
        return NULL;
      sheet->origin = g_strdup (origin->name);
    }
  read_steps (catalogue, sheet);
  return g_steal_pointer (&sheet);
}
