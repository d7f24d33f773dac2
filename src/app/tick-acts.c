/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/tick-acts.h"

typedef struct
{
  SwTickSaid said;
  SwMoney taken;
  char *text;
} Sent;

static void
sent_free (gpointer data)
{
  Sent *sent = data;

  g_free (sent->text);
  g_free (sent);
}

static gboolean
do_tick (SwCatalogue *catalogue, gpointer data, GError **error)
{
  return sw_tick (catalogue, &((const Sent *)data)->said, NULL, error);
}

void
sw_tick_act (SwStore *store, const SwTickSaid *said, GObject *owner, SwActDone done)
{
  Sent *sent = g_new0 (Sent, 1);

  sent->said = *said;
  sent->text = g_strdup (said->text);
  sent->said.text = sent->text;
  if (said->taken != NULL)
    {
      sent->taken = *said->taken;
      sent->said.taken = &sent->taken;
    }
  sw_store_act (store, do_tick, sent, sent_free, owner, done);
}

typedef struct
{
  gint64 trip;
  SwMoney counted;
} Counted;

static gboolean
do_counted (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Counted *counted = data;

  return sw_trip_cash_set (catalogue, counted->trip, counted->counted, error);
}

void
sw_tick_act_counted (SwStore *store, gint64 trip, SwMoney counted)
{
  Counted *sent = g_new0 (Counted, 1);

  *sent = (Counted){ trip, counted };
  sw_store_act (store, do_counted, sent, g_free, NULL, NULL);
}
