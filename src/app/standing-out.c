/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/standing-out.h"

#include "app/clock.h"
#include "app/text.h"
#include "core/handout/inventory.h"
#include "core/handout/standing.h"

/* The wish of both is the moment it was asked. */
static gpointer
wish_new (void)
{
  SwInstant now = sw_clock_now ();

  return g_memdup2 (&now, sizeof now);
}

static SwDay
day_of (SwCatalogue *catalogue, gconstpointer wish)
{
  return sw_day_of_instant (*(const SwInstant *)wish, sw_catalogue_zone (catalogue));
}

static char *
pages_sentence (const char *path, int pages)
{
  g_autofree char *name = g_path_get_basename (path);
  g_autofree char *count = sw_text_count ((guint)pages, "%d page", "%d pages");

  return g_strdup_printf (_ ("%s written: %s."), name, count);
}

static gpointer
read_standing (SwCatalogue *catalogue, gconstpointer wish, const char *path, GError **error)
{
  int pages = 0;

  return sw_standing_write (catalogue, day_of (catalogue, wish), path, &pages, error)
             ? pages_sentence (path, pages)
             : NULL;
}

static const SwFileOut standing = {
  .title = N_ ("Where things stand as PDF"),
  .name = N_ ("where things stand.pdf"),
  .suffix = ".pdf",
  .read = read_standing,
};

void
sw_standing_ask (GtkWindow *parent, SwStore *store)
{
  sw_file_out_ask (parent, store, &standing, wish_new (), g_free);
}

static gpointer
read_inventory (SwCatalogue *catalogue, gconstpointer wish, const char *path, GError **error)
{
  return sw_inventory_read (catalogue, day_of (catalogue, wish), error);
}

static char *
write_inventory (gpointer what, const char *path, GError **error)
{
  g_autoptr (SwInventory) inventory = what;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  SwInventoryReport report = { 0 };

  return sw_inventory_write (inventory, decoder, path, NULL, NULL, &report, error)
             ? pages_sentence (path, report.pages)
             : NULL;
}

static const SwFileOut inventory_out = {
  .title = N_ ("Inventory as PDF"),
  .name = N_ ("inventory.pdf"),
  .suffix = ".pdf",
  .read = read_inventory,
  .free_what = (GDestroyNotify)sw_inventory_free,
  .write = write_inventory,
};

void
sw_inventory_ask (GtkWindow *parent, SwStore *store)
{
  sw_file_out_ask (parent, store, &inventory_out, wish_new (), g_free);
}
