/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One act each. The open rest is proposed again by the sorter, as after every act. */
#include "app/clock-sends.h"

#include "app/text.h"
#include "core/catalogue/act.h"
#include "core/match/pairing.h"

typedef struct
{
  gint64 camera, trip, photo;
  gboolean automatic;
  double shift_s;
  char *time; /* NULL: a shift */
} Send;

static void
send_free (gpointer data)
{
  Send *send = data;

  g_free (send->time);
  g_free (send);
}

/* What the person set goes before all evidence, so it is taken off first. */
static gboolean
see (SwCatalogue *catalogue, const char *camera, const Send *send, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  SwCameraClock clock = { 0 };
  gboolean known = FALSE, forget = g_str_equal (send->time, "none");
  g_autofree char *sentence
      = forget ? g_strdup_printf (_ ("The clock in photo %" PRId64 " left out"), send->photo)
               : g_strdup_printf (_ ("Photo %" PRId64 ": the clock in it read for its camera"),
                                  send->photo);

  if (!sw_act_begin (&act, catalogue, error)
      || !sw_camera_clock_get (catalogue, send->camera, send->trip, &clock, &known, error)
      || (known && clock.set_by_person && !forget
          && !sw_camera_clock_drop (catalogue, send->camera, send->trip, error)))
    return FALSE;
  return sw_clock_see (catalogue, camera, send->trip, send->photo, send->time, error)
         && sw_act_commit (&act, sentence, error);
}

static gboolean
send_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Send *send = data;
  g_autofree char *camera = g_strdup_printf ("%" G_GINT64_FORMAT, send->camera);

  if (send->time != NULL)
    return see (catalogue, camera, send, error);
  return sw_clock_set (catalogue, camera, send->trip, send->photo,
                       send->automatic ? NULL : &send->shift_s, error);
}

void
sw_clock_send_shift (SwStore *store, gint64 camera, gint64 trip, gint64 from, const double *shift_s)
{
  Send *send = g_new0 (Send, 1);

  send->camera = camera;
  send->trip = trip;
  send->photo = from;
  send->automatic = shift_s == NULL;
  send->shift_s = shift_s != NULL ? *shift_s : 0;
  sw_store_act (store, send_run, send, send_free, NULL, NULL);
}

void
sw_clock_send_seen (SwStore *store, gint64 camera, gint64 trip, gint64 photo, const char *time)
{
  Send *send = g_new0 (Send, 1);

  send->camera = camera;
  send->trip = trip;
  send->photo = photo;
  send->time = g_strdup (time);
  sw_store_act (store, send_run, send, send_free, NULL, NULL);
}
