/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cameras and their clocks: rows and labels. How a shift is found is the match layer's. */
#include <math.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/near.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/trips.h"

/* A camera may write anything; its parts are cut here, so that bad EXIF never stops a bring-in. */
#define PART_LETTERS 100
/* A clock set back to its factory date is decades off; more is no clock. */
#define SHIFT_MAX_S (200.0 * 366 * 86400)

void
sw_camera_free (SwCamera *camera)
{
  if (camera == NULL)
    return;
  g_free (camera->make);
  g_free (camera->model);
  g_free (camera->serial);
  g_free (camera->label);
  g_free (camera);
}

static SwCamera *
camera_from_row (const SwUse *use)
{
  SwCamera *camera = g_new0 (SwCamera, 1);
  camera->id = sw_col_int (use, 0);
  camera->make = sw_col_text (use, 1);
  camera->model = sw_col_text (use, 2);
  camera->serial = sw_col_text (use, 3);
  camera->label = sw_col_text (use, 4);
  return camera;
}

/* NULL as "", invalid bytes and control characters as blanks, tidied and cut. */
static char *
clean_part (const char *text)
{
  if (text == NULL)
    return g_strdup ("");
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_autoptr (GString) plain = g_string_new (NULL);
  int n = 0;
  for (const char *p = valid; *p != '\0' && n < PART_LETTERS; p = g_utf8_next_char (p), n++)
    {
      gunichar letter = g_utf8_get_char (p);
      GUnicodeType type = g_unichar_type (letter);
      gboolean harmless = type != G_UNICODE_CONTROL && type != G_UNICODE_FORMAT;
      g_string_append_unichar (plain, harmless ? letter : ' ');
    }
  return sw_text_tidy (plain->str);
}

char *
sw_camera_plain_label (const char *make_text, const char *model_text)
{
  g_autofree char *make = clean_part (make_text);
  g_autofree char *model = clean_part (model_text);
  g_autofree char *make_folded = g_utf8_casefold (make, -1);
  g_autofree char *model_folded = g_utf8_casefold (model, -1);
  if (*make == '\0' && *model == '\0')
    return g_strdup (_ ("unknown camera"));
  if (*model == '\0')
    return g_strdup (make);
  if (*make == '\0' || g_str_has_prefix (model_folded, make_folded))
    return g_strdup (model);
  return g_strdup_printf ("%s %s", make, model);
}

static gboolean
label_taken (SwCatalogue *catalogue, const char *label, gboolean *out_taken, GError **error)
{
  gint64 id = 0;
  return sw_db_get_int (catalogue, &id, out_taken, error, SW_STMT_CAMERA_BY_LABEL, "t", label);
}

static const char *
serial_end (const char *serial)
{
  glong n = g_utf8_strlen (serial, -1);
  return n > 4 ? g_utf8_offset_to_pointer (serial, n - 4) : serial;
}

/* The plain label; where it is taken the serial's end behind it, else a count. */
static char *
free_label (SwCatalogue *catalogue, const char *make, const char *model, const char *serial,
            GError **error)
{
  g_autofree char *plain = sw_camera_plain_label (make, model);
  for (int i = 0;; i++)
    {
      g_autofree char *label = NULL;
      if (i == 0)
        label = g_strdup (plain);
      else if (i == 1 && *serial == '\0')
        continue;
      else if (i == 1)
        label = g_strdup_printf ("%s (%s)", plain, serial_end (serial));
      else
        label = g_strdup_printf ("%s (%d)", plain, i);
      gboolean taken = FALSE;
      if (!label_taken (catalogue, label, &taken, error))
        return NULL;
      if (!taken)
        return g_steal_pointer (&label);
    }
}

static gboolean
make_camera (SwCatalogue *catalogue, const char *make, const char *model, const char *serial,
             gint64 *out_id, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autofree char *label = free_label (catalogue, make, model, serial, error);
  if (label == NULL
      || !sw_db_run (catalogue, error, SW_STMT_CAMERA_INSERT, "tttt", make, model, serial, label))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  g_autofree char *sentence = g_strdup_printf (_ ("Camera '%s' met first"), label);
  if (!sw_act_tell (&act, SW_SUBJECT_CAMERA, id, "camera.added", NULL, sentence, error)
      || !sw_act_commit (&act, sentence, error))
    return FALSE;
  *out_id = id;
  return TRUE;
}

gboolean
sw_camera_ensure (SwCatalogue *catalogue, const char *make, const char *model, const char *serial,
                  gint64 *out_id, GError **error)
{
  g_autofree char *clean_make = clean_part (make);
  g_autofree char *clean_model = clean_part (model);
  g_autofree char *clean_serial = clean_part (serial);
  gint64 id = 0;
  gboolean found = FALSE;
  if (!sw_db_get_int (catalogue, &id, &found, error, SW_STMT_CAMERA_BY_PARTS, "ttt", clean_make,
                      clean_model, clean_serial))
    return FALSE;
  if (!found && !make_camera (catalogue, clean_make, clean_model, clean_serial, &id, error))
    return FALSE;
  *out_id = id;
  return TRUE;
}

GPtrArray *
sw_camera_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CAMERA_LIST, "");
  return sw_db_collect (catalogue, &use, (SwRowFunc)camera_from_row, (GDestroyNotify)sw_camera_free,
                        error);
}

static void
set_no_camera (const GPtrArray *cameras, const char *label, GError **error)
{
  g_autofree char *shown = sw_text_printable (label, -1);
  if (cameras->len == 0)
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_NOT_FOUND,
          _ ("There is no camera '%s': no photo that names its camera was brought in yet."), shown);
      return;
    }
  g_autoptr (GString) labels = g_string_new (NULL);
  for (guint i = 0; i < cameras->len && i < 12; i++)
    {
      const SwCamera *camera = g_ptr_array_index (cameras, i);
      g_string_append_printf (labels, "%s'%s'", i == 0 ? "" : ", ", camera->label);
    }
  if (cameras->len > 12)
    g_string_append (labels, _ (" and more"));
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no camera '%s'; there are: %s."),
               shown, labels->str);
}

SwCamera *
sw_camera_find (SwCatalogue *catalogue, const char *label, GError **error)
{
  g_autoptr (GPtrArray) cameras = sw_camera_list (catalogue, error);
  if (cameras == NULL)
    return NULL;
  gint64 number = 0;
  gboolean is_number = sw_near_is_number (label, &number);
  guint best = cameras->len;
  for (guint i = 0; i < cameras->len; i++)
    {
      const SwCamera *camera = g_ptr_array_index (cameras, i);
      if (strcmp (camera->label, label) == 0)
        return g_ptr_array_steal_index (cameras, i);
      if (sw_text_same_name (camera->label, label) || (is_number && camera->id == number))
        best = i;
    }
  if (best < cameras->len)
    return g_ptr_array_steal_index (cameras, best);
  set_no_camera (cameras, label, error);
  return NULL;
}

/* --- clocks --- */

/* A row of SW_CLOCK_COLUMNS, an SwCameraClock; it holds no pointer of its own. */
static void
fill_clock (const SwUse *use, gpointer out)
{
  g_autofree char *from_file = sw_col_text (use, 7);

  *(SwCameraClock *)out = (SwCameraClock){ .camera = sw_col_int (use, 0),
                                           .trip = sw_col_int (use, 1),
                                           .shift_s = sw_col_double (use, 2),
                                           .spread_s = sw_col_double (use, 3),
                                           .evidence = (int)sw_col_int (use, 4),
                                           .set_by_person = sw_col_int (use, 5) != 0,
                                           .from_photo = sw_col_int (use, 6),
                                           .from_file = g_intern_string (from_file),
                                           .drift_s_day = sw_col_double (use, 8),
                                           .drift_from_us = sw_col_int (use, 9),
                                           .other_s = sw_col_double (use, 10),
                                           .other_share = sw_col_double (use, 11),
                                           .notes = (int)sw_col_int (use, 12),
                                           .faces = (int)sw_col_int (use, 13),
                                           .fixes = (int)sw_col_int (use, 14),
                                           .beside = (int)sw_col_int (use, 15) };
}

gboolean
sw_camera_clock_get (SwCatalogue *catalogue, gint64 camera, gint64 trip, SwCameraClock *out,
                     gboolean *out_known, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CLOCK_GET, "ii", camera, trip);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  if (row)
    fill_clock (&use, out);
  *out_known = row;
  return TRUE;
}

GArray *
sw_camera_clock_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CLOCK_LIST, "");
  return sw_db_collect_plain (catalogue, &use, sizeof (SwCameraClock), fill_clock, error);
}

/* "put forward 1 h 0 min 12 s", "left as it is". */
static char *
shift_phrase (double shift_s)
{
  gint64 all = llround (fabs (shift_s));
  if (all == 0)
    return g_strdup (_ ("left as it is"));
  g_autoptr (GString) phrase = g_string_new (shift_s < 0 ? _ ("put back") : _ ("put forward"));
  if (all >= 86400)
    g_string_append_printf (phrase, " %" G_GINT64_FORMAT " d", all / 86400);
  if (all % 86400 >= 3600)
    g_string_append_printf (phrase, " %" G_GINT64_FORMAT " h", all % 86400 / 3600);
  if (all % 3600 >= 60)
    g_string_append_printf (phrase, " %" G_GINT64_FORMAT " min", all % 3600 / 60);
  if (all % 60 > 0)
    g_string_append_printf (phrase, " %" G_GINT64_FORMAT " s", all % 60);
  return g_string_free (g_steal_pointer (&phrase), FALSE);
}

static gboolean
check_clock (const SwCameraClock *clock, GError **error)
{
  if (isfinite (clock->shift_s) && fabs (clock->shift_s) <= SHIFT_MAX_S
      && isfinite (clock->spread_s) && clock->spread_s >= 0 && clock->evidence >= 0)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("The clock shift is not a number of seconds that a clock can be off by."));
  return FALSE;
}

static SwCamera *
camera_get (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CAMERA_GET, "i", id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    return camera_from_row (&use);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no camera %" PRId64 "."), id);
  return NULL;
}

/* What is found again unchanged leaves no act behind. */
static gboolean
is_known (SwCatalogue *catalogue, const SwCameraClock *clock, gboolean *out_same, GError **error)
{
  SwCameraClock old = { 0 };
  gboolean known = FALSE;
  if (!sw_camera_clock_get (catalogue, clock->camera, clock->trip, &old, &known, error))
    return FALSE;
  *out_same = known && old.shift_s == clock->shift_s && old.spread_s == clock->spread_s
              && old.evidence == clock->evidence && old.drift_s_day == clock->drift_s_day
              && old.drift_from_us == clock->drift_from_us && old.other_s == clock->other_s
              && old.other_share == clock->other_share && old.notes == clock->notes
              && old.faces == clock->faces && old.fixes == clock->fixes
              && old.beside == clock->beside
              && (old.set_by_person != FALSE) == (clock->set_by_person != FALSE);
  return TRUE;
}

/* What the program found is no act: it can be worked out again. */
static gboolean
put_found (SwCatalogue *catalogue, const SwCameraClock *clock, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  return sw_act_begin_plain (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_CLOCK_FOUND_PUT, "iiddididdiiii", clock->camera,
                       clock->trip, clock->shift_s, clock->spread_s, (gint64)clock->evidence,
                       clock->drift_s_day, clock->drift_from_us, clock->other_s, clock->other_share,
                       (gint64)clock->notes, (gint64)clock->faces, (gint64)clock->fixes,
                       (gint64)clock->beside)
         && sw_act_commit (&act, NULL, error);
}

static gboolean
put_set (SwCatalogue *catalogue, const SwCameraClock *clock, const SwCamera *camera, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *phrase = shift_phrase (clock->shift_s);
  g_autofree char *sentence = g_strdup_printf (_ ("%s on trip %" PRId64 ": clock %s (set by hand)"),
                                               camera->label, clock->trip, phrase);

  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_CLOCK_PUT, "iiddi", clock->camera, clock->trip,
                       clock->shift_s, clock->spread_s, (gint64)clock->evidence)
         && sw_db_run (catalogue, error, SW_STMT_CLOCK_SET_DROP, "iii", clock->camera, clock->trip,
                       (gint64)0)
         && sw_act_tell (&act, SW_SUBJECT_CAMERA, camera->id, "camera.clock", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_camera_clock_put (SwCatalogue *catalogue, const SwCameraClock *clock, GError **error)
{
  g_autoptr (SwCamera) camera = NULL;
  g_autoptr (SwTrip) trip = NULL;
  gboolean same = FALSE;

  if (!check_clock (clock, error) || (camera = camera_get (catalogue, clock->camera, error)) == NULL
      || (trip = sw_trip_get (catalogue, clock->trip, error)) == NULL
      || !is_known (catalogue, clock, &same, error))
    return FALSE;
  if (same)
    return TRUE;
  return clock->set_by_person ? put_set (catalogue, clock, camera, error)
                              : put_found (catalogue, clock, error);
}

gboolean
sw_camera_clock_drop_found (SwCatalogue *catalogue, gint64 camera, gint64 trip, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  return sw_act_begin_plain (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_CLOCK_FOUND_DROP, "ii", camera, trip)
         && sw_db_run (catalogue, error, SW_STMT_CLOCK_PARTS_DROP, "ii", camera, trip)
         && sw_act_commit (&act, NULL, error);
}

gboolean
sw_camera_clock_drop (SwCatalogue *catalogue, gint64 camera_id, gint64 trip, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwCamera) camera = camera_get (catalogue, camera_id, error);
  if (camera == NULL || !sw_camera_clock_drop_found (catalogue, camera_id, trip, error)
      || !sw_db_run (catalogue, error, SW_STMT_CLOCK_DROP, "ii", camera_id, trip))
    return FALSE;
  gboolean was_set = sw_db_changes (catalogue) > 0;
  if (!sw_db_run (catalogue, error, SW_STMT_CLOCK_SET_DROP, "iii", camera_id, trip, (gint64)0))
    return FALSE;
  was_set |= sw_db_changes (catalogue) > 0;
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s on trip %" PRId64 ": clock shift open again"), camera->label, trip);
  return (!was_set
          || sw_act_tell (&act, SW_SUBJECT_CAMERA, camera_id, "camera.clock", NULL, sentence,
                          error))
         && sw_act_commit (&act, sentence, error);
}
