/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/trip-hand.h"

#include "app/ask-form.h"
#include "app/file-out.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/act.h"
#include "core/catalogue/site.h"
#include "core/handout/neighbour-slip.h"
#include "core/trip/buyer-text.h"

/* ---- the text to a buyer ---- */

typedef struct
{
  gint64 trip, deal;
} Which;

static gpointer
read_text (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Which *which = data;

  return sw_buyer_text_of_deal (catalogue, which->trip, which->deal, error);
}

static void
on_text (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwStore) store = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = sw_store_finish (store, result, &error);

  if (text == NULL)
    {
      sw_store_tell (store, error->message, TRUE);
      return;
    }
  gtk_clipboard_set_text (gtk_clipboard_get (GDK_SELECTION_CLIPBOARD), text, -1);
  sw_store_tell (store, _ ("The text to the buyer is on the clipboard; nothing was sent."), FALSE);
}

void
sw_trip_copy_buyer_text (SwStore *store, gint64 trip, gint64 deal)
{
  Which *which = g_new0 (Which, 1);

  *which = (Which){ trip, deal };
  sw_store_read (store, SW_RANK_KEY, read_text, which, g_free, g_free, NULL, on_text,
                 g_object_ref (store));
}

/* ---- on site ---- */

static const SwAskSpec site_spec = {
  N_ ("On site"),
  N_ ("_Keep"),
  { { SW_FIELD_TEXT, N_ ("_When somebody is there"), N_ ("Saturday 10 to 16"), NULL },
    { SW_FIELD_LONG, N_ ("Way to the _gate"), NULL, NULL },
    { SW_FIELD_END } },
};

typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
  gint64 trip;
  char *hours, *way;
} Site;

static void
site_free (gpointer data)
{
  Site *site = data;

  g_clear_weak_pointer (&site->parent);
  g_clear_object (&site->store);
  g_free (site->hours);
  g_free (site->way);
  g_free (site);
}

static gboolean
do_site (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Site *site = data;
  g_auto (SwAct) act = SW_ACT_INIT;

  return sw_act_begin (&act, catalogue, error)
         && sw_site_set_hours (catalogue, site->trip, site->hours, error)
         && sw_site_set_way (catalogue, site->way, error)
         && sw_act_commit (&act, _ ("Hours on site and the way to the gate entered"), error);
}

static void
send_site (SwStore *store, char **values, gpointer data, GObject *owner, SwTryDone done)
{
  Site *sent = g_new0 (Site, 1);

  sent->trip = *(const gint64 *)data;
  sent->hours = g_strdup (values[0]);
  sent->way = g_strdup (values[1]);
  sw_store_try (store, do_site, sent, site_free, owner, done);
}

static gpointer
read_site (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  Site *read = g_new0 (Site, 1);

  read->trip = *(const gint64 *)data;
  if ((read->hours = sw_site_hours (catalogue, read->trip, error)) != NULL
      && (read->way = sw_site_way (catalogue, error)) != NULL)
    return read;
  site_free (read);
  return NULL;
}

static void
on_site (GObject *object, GAsyncResult *result, gpointer data)
{
  Site *asked = data;
  Site *read = sw_store_finish (asked->store, result, NULL);

  if (read != NULL && asked->parent != NULL)
    {
      const char *begun[] = { read->hours, read->way };
      GtkWidget *above = gtk_label_new (_ (
          "Both stay at home, but for the text to a buyer: the hours if they are entered, the way "
          "only once all is paid."));
      const SwAsk ask = { .spec = &site_spec,
                          .begun = begun,
                          .above = above,
                          .send = send_site,
                          .data = g_memdup2 (&read->trip, sizeof read->trip),
                          .destroy = g_free };

      gtk_label_set_xalign (GTK_LABEL (above), 0);
      gtk_label_set_line_wrap (GTK_LABEL (above), TRUE);
      gtk_label_set_max_width_chars (GTK_LABEL (above), 44);
      sw_ask_form_show (asked->parent, asked->store, &ask);
    }
  if (read != NULL)
    site_free (read);
  site_free (asked);
}

void
sw_trip_ask_site (GtkWindow *parent, SwStore *store, gint64 trip)
{
  Site *asked = g_new0 (Site, 1);

  asked->store = g_object_ref (store);
  g_set_weak_pointer (&asked->parent, parent);
  sw_store_read (store, SW_RANK_KEY, read_site, g_memdup2 (&trip, sizeof trip), g_free, site_free,
                 NULL, on_site, asked);
}

/* ---- the slip ---- */

static gpointer
write_slip (SwCatalogue *catalogue, gconstpointer wish, const char *path, GError **error)
{
  g_autofree char *name = g_path_get_basename (path), *count = NULL;
  int pages = 0;

  if (!sw_neighbour_slip_write (catalogue, *(const gint64 *)wish, path, &pages, error))
    return NULL;
  count = sw_text_count (pages, "%d page", "%d pages");
  return g_strdup_printf (_ ("%s written: the slip for a neighbour, %s"), name, count);
}

static const SwFileOut slip = {
  .title = N_ ("Write the slip for a neighbour"),
  .name = N_ ("slip.pdf"),
  .suffix = ".pdf",
  .read = write_slip,
};

void
sw_trip_ask_slip (GtkWindow *parent, SwStore *store, gint64 trip)
{
  sw_file_out_ask (parent, store, &slip, g_memdup2 (&trip, sizeof trip), g_free);
}
