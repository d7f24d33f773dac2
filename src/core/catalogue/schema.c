/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The schema's steps and how a database is brought up to the latest. Runs before the statements are
 * prepared, so it asks SQLite directly. A step never calls code of the records: it must do the same
 * in ten years. */
#include "core/catalogue/schema.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/backup.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/schema-answers.h"
#include "core/catalogue/schema-cards.h"
#include "core/catalogue/schema-charges.h"
#include "core/catalogue/schema-clock-parts.h"
#include "core/catalogue/schema-clocks.h"
#include "core/catalogue/schema-enquiries.h"
#include "core/catalogue/schema-foundation.h"
#include "core/catalogue/schema-free.h"
#include "core/catalogue/schema-gaps.h"
#include "core/catalogue/schema-items.h"
#include "core/catalogue/schema-limits.h"
#include "core/catalogue/schema-look.h"
#include "core/catalogue/schema-match.h"
#include "core/catalogue/schema-money.h"
#include "core/catalogue/schema-offers.h"
#include "core/catalogue/schema-paid-back.h"
#include "core/catalogue/schema-plan.h"
#include "core/catalogue/schema-receipts.h"
#include "core/catalogue/schema-shares.h"
#include "core/catalogue/schema-site.h"
#include "core/catalogue/schema-sorting.h"
#include "core/catalogue/schema-ticks.h"
#include "core/catalogue/schema-van.h"
#include "core/catalogue/schema-wide.h"
#include "core/catalogue/schema-yards.h"

/* In order, without a hole; the last is what this program writes. */
static const SwSchemaStep steps[] = {
  { 1, SW_SCHEMA_FOUNDATION, "places, trips, items and photos" },
  { 2, SW_SCHEMA_MONEY, "outlets, offers, dockets and money" },
  { 3, SW_SCHEMA_MATCH, "field notes and proposed stops" },
  { 4, "ALTER TABLE item ADD COLUMN found_place INTEGER REFERENCES place (id);",
    "where an item was found that was brought home since" },
  { 5, SW_SCHEMA_CARDS, "place cards and tags" },
  { 6, SW_SCHEMA_SORTING, "stops cut and joined by hand" },
  { 7, SW_SCHEMA_LOOK, "turned photos, and which are blurred or dark" },
  { 8, SW_SCHEMA_CLOCKS, "clocks that were found apart from those set by hand" },
  { 9, SW_SCHEMA_ITEMS, "sizes, lots, claims, price evidence and a search of items" },
  { 10, SW_SCHEMA_CLOCK_PARTS, "clocks that change or drift, and clocks in pictures" },
  { 11, SW_SCHEMA_OFFERS, "rounds, texts of offers, and results of a closing night" },
  { 12, SW_SCHEMA_SHARES, "shares, the family's account, and statements of outlets" },
  { 13, SW_SCHEMA_WIDE, "second things in wide photos" },
  { 14, SW_SCHEMA_PLAN, "places that were looked through, and the plan's scale" },
  { 15, SW_SCHEMA_YARDS, "yards that fetch scrap themselves" },
  { 16, SW_SCHEMA_VAN, "the van, and what it loads" },
  { 17, SW_SCHEMA_RECEIPTS, "receipts beside the costs entered from them" },
  { 18, SW_SCHEMA_ENQUIRIES, "enquiries for offers, and how payments were made" },
  { 19, SW_SCHEMA_ANSWERS, "what the family answered" },
  { 20, SW_SCHEMA_TICKS, "what is ticked off after a trip" },
  { 21, SW_SCHEMA_LIMITS, "how long texts may be at an outlet" },
  { 22, SW_SCHEMA_SITE, "hours on site, the way to the gate, and the last day" },
  { 23, SW_SCHEMA_CHARGES, "scrap that a yard takes only against a charge" },
  { 24, SW_SCHEMA_FREE, "which offers of a month are free" },
  { 25, SW_SCHEMA_PAID_BACK, "what was paid too much and given back" },
  { 26, SW_SCHEMA_GAPS, "between which two photos a stop was cut or joined" },
};

const SwSchemaStep *
sw_schema_steps (gsize *out_n)
{
  *out_n = G_N_ELEMENTS (steps);
  return steps;
}

int
sw_schema_latest (void)
{
  return steps[G_N_ELEMENTS (steps) - 1].version;
}

/* The step's own entry: what was before it cannot be taken back, since changesets speak of the old
 * tables. */
static char *
barrier_sql (SwCatalogue *catalogue, const SwSchemaStep *step)
{
  char *made
      = sqlite3_mprintf ("INSERT INTO act (at_us, author, kind, sentence)"
                         " VALUES (%lld, %Q, 'barrier', 'The catalogue learned: %q')",
                         (long long)sw_catalogue_now (catalogue).us, catalogue->author, step->why);
  char *sql = g_strdup (made);
  sqlite3_free (made);
  return sql;
}

static gboolean
take_inside (SwCatalogue *catalogue, const SwSchemaStep *step, gboolean fresh, const char *what,
             GError **error)
{
  gint64 version = 0;
  if (!sw_db_ask_int (catalogue->db, "PRAGMA user_version", what, &version, error))
    return FALSE;
  /* another program took it while we made the backup */
  if (version >= step->version)
    return TRUE;
  g_autofree char *number = g_strdup_printf ("PRAGMA user_version = %d; PRAGMA application_id = %d",
                                             step->version, SW_APPLICATION_ID);
  if (!sw_db_exec (catalogue->db, step->sql, what, error)
      || !sw_db_exec (catalogue->db, number, what, error))
    return FALSE;
  if (fresh)
    return TRUE;
  g_autofree char *barrier = barrier_sql (catalogue, step);
  return sw_db_exec (catalogue->db, barrier, what, error);
}

static gboolean
take_step (SwCatalogue *catalogue, const SwSchemaStep *step, gboolean backup, GError **error)
{
  g_autofree char *what = g_strdup_printf (_ ("The catalogue %s"), catalogue->folder);
  g_autofree char *why = g_strdup_printf ("before-step-%d", step->version);
  if (backup && !sw_backup_database (catalogue, why, error))
    return FALSE;
  if (!sw_db_exec (catalogue->db, "BEGIN IMMEDIATE", what, error))
    return FALSE;
  if (take_inside (catalogue, step, !backup, what, error)
      && sw_db_exec (catalogue->db, "COMMIT", what, error))
    return TRUE;
  if (!sqlite3_get_autocommit (catalogue->db))
    sqlite3_exec (catalogue->db, "ROLLBACK", NULL, NULL, NULL);
  return FALSE;
}

gboolean
sw_schema_bring_up (SwCatalogue *catalogue, GError **error)
{
  gint64 version = 0;
  g_autofree char *what = g_strdup_printf (_ ("The catalogue %s"), catalogue->folder);
  if (!sw_db_ask_int (catalogue->db, "PRAGMA user_version", what, &version, error))
    return FALSE;
  if (version > sw_schema_latest ())
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NEWER_SCHEMA,
                   _ ("%s was written by a newer Shedwalk (schema %d, this one knows %d); "
                      "open it with the newer one."),
                   what, (int)version, sw_schema_latest ());
      return FALSE;
    }
  if (version < sw_schema_latest () && catalogue->read_only)
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_READ_ONLY,
          _ ("%s was written by an older Shedwalk and must be brought up to date first: open it "
             "once in the window, on a disk that can be written."),
          what);
      return FALSE;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    if (steps[i].version > version && !take_step (catalogue, &steps[i], version > 0, error))
      return FALSE;
  return TRUE;
}
