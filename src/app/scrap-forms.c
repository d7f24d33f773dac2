/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two forms of scrap. */
#include "app/scrap-forms.h"

#include "app/ask-form.h"
#include "app/clock.h"
#include "app/text.h"
#include "app/typed-day.h"
#include "core/base/error.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/yard-rates.h"

typedef struct
{
  char **values;
  SwInstant now;
} Wish;

static void
wish_free (gpointer data)
{
  Wish *wish = data;

  g_strfreev (wish->values);
  g_free (wish);
}

static Wish *
wish_of (char **values)
{
  Wish *wish = g_new0 (Wish, 1);

  wish->values = g_strdupv (values);
  wish->now = sw_clock_now ();
  return wish;
}

static gboolean
amount_of (SwCatalogue *catalogue, const char *text, SwMoney *out, GError **error)
{
  return sw_money_parse_plain (text, sw_catalogue_currency (catalogue), FALSE, out, error);
}

/* Below zero where the yard charges it. */
static gboolean
rate_of (SwCatalogue *catalogue, const char *text, gboolean charged, SwMoney *out, GError **error)
{
  g_autofree char *below = g_strconcat ("-", text, NULL);

  if (!charged || *text == '\0')
    return amount_of (catalogue, text, out, error);
  return sw_money_parse_plain (below, sw_catalogue_currency (catalogue), TRUE, out, error);
}

/* ---- what a yard pays ---- */

enum
{
  YARD,
  CLASS,
  RATE,
  CHARGED,
  FROM,
  FETCHES,
  LEAST,
};

static const SwAskSpec rate_spec = {
  N_ ("What a yard pays or charges"),
  N_ ("_Keep"),
  { { SW_FIELD_CHOICE, N_ ("_Yard"), NULL, NULL },
    { SW_FIELD_TEXT, N_ ("C_lass"), N_ ("cast iron, copper…"), NULL },
    { SW_FIELD_MONEY, N_ ("_Rate a tonne"), NULL, NULL },
    { SW_FIELD_CHECK, N_ ("The yard c_harges that to take it"), NULL, NULL },
    { SW_FIELD_TEXT, N_ ("From _day"), SW_DAY_HINT_TODAY, NULL },
    { SW_FIELD_CHECK, N_ ("The yard _fetches it"), NULL, NULL },
    { SW_FIELD_TEXT, N_ ("From at l_east"), N_ ("2 t, where it fetches"), NULL } },
};

static SwOutlet *
yard_named (SwCatalogue *catalogue, const char *name, GError **error)
{
  SwOutlet *yard = NULL;

  if (*name == '\0')
    g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                 _ ("There is no scrap yard yet; enter one under On offer, Outlets."));
  else if (sw_outlet_find (catalogue, name, &yard, error) && yard == NULL)
    g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no outlet of that name."));
  return yard;
}

static gboolean
run_rate (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;
  char **values = wish->values;
  SwDay from = sw_day_of_instant (wish->now, sw_catalogue_zone (catalogue));
  SwMoney rate;
  SwMass least = { 0 };
  g_autoptr (SwOutlet) yard = yard_named (catalogue, values[YARD], error);

  if (yard == NULL || !rate_of (catalogue, values[RATE], *values[CHARGED] != '\0', &rate, error)
      || (*values[FROM] != '\0'
          && !sw_typed_day (catalogue, values[FROM], SW_DAY_NEAR, &from, error))
      || (*values[LEAST] != '\0' && !sw_mass_parse (values[LEAST], &least, error)))
    return FALSE;
  return *values[FETCHES] != '\0'
             ? sw_collected_rate_set (catalogue, yard->id, values[CLASS], from, rate, least, error)
             : sw_yard_rate_set (catalogue, yard->id, values[CLASS], from, rate, error);
}

static void
send_rate (SwStore *store, char **values, gpointer data, GObject *owner, SwTryDone done)
{
  sw_store_try (store, run_rate, wish_of (values), wish_free, owner, done);
}

void
sw_rate_form_show (GtkWindow *parent, SwStore *store, const char *const *yards)
{
  const SwAsk ask = { .spec = &rate_spec, .choices = yards, .send = send_rate };

  sw_ask_form_show (parent, store, &ask);
}

/* ---- the load planned ---- */

static const SwAskSpec load_spec = {
  N_ ("A load to the yard"),
  N_ ("_Keep"),
  { { SW_FIELD_MONEY, N_ ("_Cartage"), N_ ("truck, fuel, driver for one load"), NULL },
    { SW_FIELD_TEXT, N_ ("_Mass of a load"), N_ ("1.5 t"), NULL } },
};

static gboolean
run_load (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;
  SwMoney cartage;
  SwMass mass;

  return amount_of (catalogue, wish->values[0], &cartage, error)
         && sw_mass_parse (wish->values[1], &mass, error)
         && sw_scrap_load_set (catalogue, cartage, mass, error);
}

static void
send_load (SwStore *store, char **values, gpointer data, GObject *owner, SwTryDone done)
{
  sw_store_try (store, run_load, wish_of (values), wish_free, owner, done);
}

void
sw_load_form_show (GtkWindow *parent, SwStore *store, const char *const *begun)
{
  const SwAsk ask = { .spec = &load_spec, .begun = begun, .send = send_load };

  sw_ask_form_show (parent, store, &ask);
}
