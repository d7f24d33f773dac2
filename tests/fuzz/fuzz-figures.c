/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text as an amount, a mass, a time and a name: what is taken prints and reads back the same.
 */
#include "target.h"

#include "core/base/civil.h"
#include "core/base/mass.h"
#include "core/base/money.h"
#include "core/base/plain-time.h"
#include "core/base/text.h"

#include <stdlib.h>
#include <string.h>

static void
try_money (const char *text)
{
  static const SwCurrency currency = { "KWD", 3 };
  static const SwNumberStyle style = { ",", "." };
  SwMoney plain, local, back = { -1 };
  if (sw_money_parse_plain (text, currency, TRUE, &plain, NULL))
    {
      g_autofree char *printed = sw_money_to_plain (plain, currency);
      if (!sw_money_parse_plain (printed, currency, TRUE, &back, NULL) || back.minor != plain.minor)
        abort ();
    }
  if (sw_money_parse_local (text, currency, style, &local, NULL))
    {
      g_autofree char *printed = sw_money_to_local (local, currency, style);
      if (!sw_money_parse_local (printed, currency, style, &back, NULL)
          || back.minor != local.minor)
        abort ();
    }
}

static void
try_mass (const char *text)
{
  SwMass mass, back = { -1 };
  if (!sw_mass_parse (text, &mass, NULL))
    return;
  g_autofree char *printed = sw_mass_to_text (mass);
  if (!sw_mass_parse (printed, &back, NULL) || back.ug != mass.ug)
    abort ();
}

static void
try_moment (const char *text)
{
  g_autoptr (SwZone) zone = sw_zone_new ("Australia/Lord_Howe", NULL);
  SwInstant instant;
  if (zone == NULL)
    abort ();
  if (!sw_moment_parse (text, zone, &instant, NULL, NULL))
    return;
  SwCivilKind kind = SW_CIVIL_GAP;
  SwCivil civil = sw_civil_from_instant (instant, zone, NULL);
  SwInstant back = sw_civil_to_instant (civil, zone, &kind);
  if (kind == SW_CIVIL_GAP || (kind == SW_CIVIL_PLAIN && back.us != instant.us))
    abort ();
}

/* What is read as a day is read as the same one again however it is written. */
static void
try_day (const char *text)
{
  const SwDay today = sw_day_from_ymd (2026, 11, 28);
  SwDay day = { 0 }, back = { 0 };
  if (!sw_day_from_person (text, today, SW_DAY_NEAR, &day, NULL))
    return;
  g_autofree char *written = sw_day_written (day);
  g_autofree char *plain = sw_day_to_text (day);
  if (!sw_day_from_person (written, today, SW_DAY_NEAR, &back, NULL) || back.n != day.n
      || !sw_day_from_person (plain, today, SW_DAY_AHEAD, &back, NULL) || back.n != day.n)
    abort ();
}

static void
try_text (const char *text, gsize size)
{
  g_autofree char *printable = sw_text_printable (text, (gssize)size);
  g_autofree char *quoted = sw_text_quote (text);
  g_autofree char *stem = sw_text_safe_stem (text);
  g_autofree char *tidy = sw_text_tidy (text);
  if (!g_utf8_validate (printable, -1, NULL) || !g_utf8_validate (quoted, -1, NULL)
      || !sw_text_same_name (text, tidy) || *stem == '\0' || strlen (stem) > 40)
    abort ();
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autofree char *text = g_strndup ((const char *)data, size);
  try_money (text);
  try_mass (text);
  try_moment (text);
  try_day (text);
  try_text (text, strlen (text));
  return 0;
}
