/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Works out charges from their rows. Percents are kept as their decimal digits and multiplied digit
 * by digit, so that a rate of any number of decimals is exact and the only rounding is the one that
 * the outlet's terms ask for. */
#include "core/trade/terms.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

#include <string.h>

typedef unsigned __int128 Wide;

static gboolean
fail_cell (GError **error, const char *cell, const char *how)
{
  g_autofree char *shown = sw_text_quote (cell);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, "%s %s.", shown, how);
  return FALSE;
}

/* --- percents --- */

/* Leading zeros and trailing zeros of the decimals go: one rate has one text. */
static char *
shortest_decimal (const char *digits, gsize length)
{
  const char *point = memchr (digits, '.', length);
  const char *end = digits + length;
  while (point != NULL && end > point + 1 && end[-1] == '0')
    end--;
  if (point != NULL && end == point + 1)
    end = point;
  while (digits + 1 < end && digits[0] == '0' && digits[1] != '.')
    digits++;
  return g_strndup (digits, (gsize)(end - digits));
}

static gboolean
is_plain_decimal (const char *text, gsize length)
{
  gsize points = 0, digits = 0;
  for (gsize i = 0; i < length; i++)
    {
      if (text[i] == '.')
        points++;
      else if (g_ascii_isdigit (text[i]))
        digits++;
      else
        return FALSE;
    }
  return points <= 1 && digits >= 1 && text[0] != '.' && text[length - 1] != '.';
}

static gboolean
is_above_hundred (const char *percent)
{
  gsize whole = strcspn (percent, ".");
  if (whole != 3)
    return whole > 3;
  return strncmp (percent, "100", 3) > 0 || (strncmp (percent, "100", 3) == 0 && percent[3] == '.');
}

char *
sw_percent_parse (const char *cell, GError **error)
{
  g_return_val_if_fail (cell != NULL, NULL);
  gsize length = strlen (cell);
  gboolean signed_ = length > 0 && cell[length - 1] == '%';
  if (signed_)
    length--;
  while (signed_ && length > 0 && cell[length - 1] == ' ')
    length--;
  if (!signed_ || length == 0 || !is_plain_decimal (cell, length))
    {
      fail_cell (error, cell, _ ("is no percentage; write it like 20% or 17.5%"));
      return NULL;
    }
  g_autofree char *percent = shortest_decimal (cell, length);
  if (is_above_hundred (percent))
    {
      fail_cell (error, cell, _ ("is more than the whole; give a percentage from 0% to 100%"));
      return NULL;
    }
  return g_steal_pointer (&percent);
}

/* Decimals of a percent's text. */
static gsize
n_decimals (const char *percent)
{
  const char *point = strchr (percent, '.');
  return point == NULL ? 0 : strlen (point + 1);
}

/* The digit of weight 10^exponent. */
static guint
digit_at (const char *percent, gssize exponent)
{
  gssize whole = (gssize)strcspn (percent, ".");
  gssize index = whole - 1 - exponent;
  if (exponent < 0)
    index++; /* over the point */
  if (index < 0 || index >= (gssize)strlen (percent))
    return 0;
  return (guint)(percent[index] - '0');
}

/* The digits of a sum below the point, as far as rounding must know them. */
typedef struct
{
  guint first;   /* the digit right behind the point */
  gboolean more; /* whether any behind it is not zero */
} Rest;

static gboolean
rounds_up (Rest rest, gboolean odd, SwRounding rounding)
{
  if (rest.first != 5)
    return rest.first > 5;
  return rest.more || rounding == SW_ROUND_HALF_UP || odd;
}

gboolean
sw_percent_sum (const SwMoney *amounts, const char *const *percents, gsize n, SwRounding rounding,
                SwMoney *out, GError **error)
{
  gsize decimals = 0;
  for (gsize i = 0; i < n; i++)
    {
      g_return_val_if_fail (amounts[i].minor >= 0, FALSE);
      decimals = MAX (decimals, n_decimals (percents[i]));
    }

  /* From the least digit up, as on paper: 'carry' is what has gathered at the present digit. In
   * units of the amounts a percent's digit of weight 10^e stands at 10^(e - 2). */
  Wide carry = 0;
  Rest rest = { 0, FALSE };
  for (gssize exponent = -(gssize)decimals; exponent < 2; exponent++)
    {
      for (gsize i = 0; i < n; i++)
        carry += (Wide)amounts[i].minor * digit_at (percents[i], exponent);
      rest.more = rest.more || rest.first != 0;
      rest.first = (guint)(carry % 10);
      carry /= 10;
    }
  /* Only 100% has a digit here. */
  for (gsize i = 0; i < n; i++)
    carry += (Wide)amounts[i].minor * digit_at (percents[i], 2);

  if (rounds_up (rest, carry % 2 == 1, rounding))
    carry++;
  if (carry > (Wide)G_MAXINT64)
    {
      g_set_error_literal (
          error, SW_ERROR, SW_ERROR_BAD_INPUT,
          _ ("The charge grows too large to be kept; look for a figure with too many digits."));
      return FALSE;
    }
  out->minor = (gint64)carry;
  return TRUE;
}

/* --- tiers --- */

typedef struct
{
  SwMoney bound; /* of all but the last */
  char *percent;
} Tier;

struct _SwTiers
{
  GArray *rows; /* Tier */
};

static void
clear_tier (gpointer data)
{
  Tier *tier = data;
  g_free (tier->percent);
}

static SwTiers *
tiers_new (void)
{
  SwTiers *tiers = g_new0 (SwTiers, 1);
  tiers->rows = g_array_new (FALSE, TRUE, sizeof (Tier));
  g_array_set_clear_func (tiers->rows, clear_tier);
  return tiers;
}

void
sw_tiers_free (SwTiers *tiers)
{
  if (tiers == NULL)
    return;
  g_array_unref (tiers->rows);
  g_free (tiers);
}

static gboolean
parse_bound (const char *text, gboolean last, const SwTiers *tiers, SwCurrency currency, Tier *tier,
             GError **error)
{
  if (last && *text != '\0')
    return fail_cell (error, text,
                      _ ("ends the tiers; say what holds above it too, as in 500:10%;:4%"));
  if (last)
    return TRUE;
  if (*text == '\0')
    return fail_cell (error, text, _ ("stands for no upper bound and may only be the last tier"));
  if (!sw_money_parse_plain (text, currency, FALSE, &tier->bound, error))
    return FALSE;
  guint n = tiers->rows->len;
  SwMoney below = n > 0 ? g_array_index (tiers->rows, Tier, n - 1).bound : SW_MONEY_ZERO;
  if (tier->bound.minor <= below.minor)
    return fail_cell (error, text,
                      _ ("does not lie above the tier before it; let the bounds rise"));
  return TRUE;
}

static gboolean
parse_tier (const char *text, gboolean only, gboolean last, SwTiers *tiers, SwCurrency currency,
            GError **error)
{
  const char *colon = strchr (text, ':');
  if (colon == NULL && !only)
    return fail_cell (error, text, _ ("is no tier; write them like 500:10%;:4%"));
  g_autofree char *bound
      = g_strstrip (colon != NULL ? g_strndup (text, (gsize)(colon - text)) : g_strdup (""));
  g_autofree char *rate = g_strstrip (g_strdup (colon != NULL ? colon + 1 : text));
  Tier tier = { SW_MONEY_ZERO, NULL };
  if (!parse_bound (bound, last, tiers, currency, &tier, error))
    return FALSE;
  tier.percent = sw_percent_parse (rate, error);
  if (tier.percent == NULL)
    return FALSE;
  g_array_append_val (tiers->rows, tier);
  return TRUE;
}

SwTiers *
sw_tiers_parse (const char *cell, SwCurrency currency, GError **error)
{
  g_return_val_if_fail (cell != NULL, NULL);
  g_auto (GStrv) texts = g_strsplit (cell, ";", -1);
  guint n = g_strv_length (texts);
  if (n == 0)
    {
      fail_cell (error, cell, _ ("holds no tier; write them like 500:10%;:4%"));
      return NULL;
    }
  g_autoptr (SwTiers) tiers = tiers_new ();
  for (guint i = 0; i < n; i++)
    if (!parse_tier (texts[i], n == 1, i + 1 == n, tiers, currency, error))
      return NULL;
  return g_steal_pointer (&tiers);
}

char *
sw_tiers_to_text (const SwTiers *tiers, SwCurrency currency)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < tiers->rows->len; i++)
    {
      const Tier *tier = &g_array_index (tiers->rows, Tier, i);
      gboolean last = i + 1 == tiers->rows->len;
      g_autofree char *bound = last ? g_strdup ("") : sw_money_to_plain (tier->bound, currency);
      g_string_append_printf (text, "%s:%s%%%s", bound, tier->percent, last ? "" : ";");
    }
  return g_string_free (text, FALSE);
}

gboolean
sw_tiers_apply (const SwTiers *tiers, SwMoney amount, SwRounding rounding, SwMoney *out,
                GError **error)
{
  g_return_val_if_fail (amount.minor >= 0, FALSE);
  guint n = tiers->rows->len;
  g_autofree SwMoney *within = g_new0 (SwMoney, n);
  g_autofree const char **percents = g_new0 (const char *, n);
  gint64 below = 0;
  for (guint i = 0; i < n; i++)
    {
      const Tier *tier = &g_array_index (tiers->rows, Tier, i);
      gint64 top = i + 1 == n ? amount.minor : MIN (amount.minor, tier->bound.minor);
      within[i].minor = MAX (top - below, 0);
      percents[i] = tier->percent;
      below = tier->bound.minor;
    }
  return sw_percent_sum (within, percents, n, rounding, out, error);
}

/* --- charges --- */

static gboolean
is_due (const SwCharge *charge, const SwChargeCase *what)
{
  if (charge->ends)
    return FALSE;
  if (charge->basis == SW_CHARGE_OFFER ? !what->by_offer : !what->sold)
    return FALSE;
  /* Ranks start at 1, so nothing is free where there is no rank. */
  return what->rank == 0 || what->rank > charge->free_offers;
}

static gboolean
compute_unbounded (const SwCharge *charge, const SwChargeCase *what, SwMoney *out_amount,
                   GError **error)
{
  if (charge->basis == SW_CHARGE_OFFER || charge->basis == SW_CHARGE_SALE)
    {
      *out_amount = charge->flat;
      return TRUE;
    }
  SwMoney base = what->price;
  if (charge->basis == SW_CHARGE_PRICE_AND_DELIVERY
      && !sw_money_add (base, what->delivery, &base, error))
    return FALSE;
  g_autoptr (SwTiers) tiers = sw_tiers_parse (charge->tiers, what->currency, error);
  return tiers != NULL && sw_tiers_apply (tiers, base, what->rounding, out_amount, error);
}

gboolean
sw_charge_compute (const SwCharge *charge, const SwChargeCase *what, gboolean *out_due,
                   SwMoney *out_amount, SwMoney *out_tax, GError **error)
{
  if (!is_due (charge, what))
    {
      *out_due = FALSE;
      *out_amount = *out_tax = SW_MONEY_ZERO;
      return TRUE;
    }
  SwMoney amount;
  if (!compute_unbounded (charge, what, &amount, error))
    return FALSE;
  /* Least and most are whole minor units, so bounding the rounded charge is bounding it before. */
  if (charge->has_least)
    amount.minor = MAX (amount.minor, charge->least.minor);
  if (charge->has_most)
    amount.minor = MIN (amount.minor, charge->most.minor);
  SwMoney tax = SW_MONEY_ZERO;
  const char *rate = charge->tax;
  if (rate != NULL && !sw_percent_sum (&amount, &rate, 1, what->rounding, &tax, error))
    return FALSE;
  *out_due = TRUE;
  *out_amount = amount;
  *out_tax = tax;
  return TRUE;
}

GPtrArray *
sw_terms_on (const GPtrArray *charges, SwDay day)
{
  GPtrArray *in_force = g_ptr_array_new ();
  for (guint i = 0; i < charges->len; i++)
    {
      SwCharge *charge = g_ptr_array_index (charges, i);
      if (charge->from.n > day.n)
        continue;
      /* By name, then day: a later version stands right behind the one it replaces. */
      SwCharge *last = in_force->len > 0 ? g_ptr_array_index (in_force, in_force->len - 1) : NULL;
      if (last != NULL && strcmp (last->name, charge->name) == 0)
        g_ptr_array_index (in_force, in_force->len - 1) = charge;
      else
        g_ptr_array_add (in_force, charge);
    }
  for (guint i = in_force->len; i > 0; i--)
    if (((SwCharge *)g_ptr_array_index (in_force, i - 1))->ends)
      g_ptr_array_remove_index (in_force, i - 1);
  return in_force;
}

/* --- free offers --- */

static int
compare_closings (gconstpointer a, gconstpointer b)
{
  const SwClosing *x = a, *y = b;
  if (x->closes.us != y->closes.us)
    return x->closes.us < y->closes.us ? -1 : 1;
  if (x->item != y->item)
    return x->item < y->item ? -1 : 1;
  return strcmp (x->ref, y->ref);
}

void
sw_terms_rank (GArray *closings, const SwZone *zone)
{
  g_array_sort (closings, compare_closings);
  int month_before = -1;
  gint64 rank = 0;
  for (guint i = 0; i < closings->len; i++)
    {
      SwClosing *closing = &g_array_index (closings, SwClosing, i);
      int year, month, day;
      sw_day_to_ymd (sw_day_of_instant (closing->closes, zone), &year, &month, &day);
      if (year * 12 + month != month_before)
        rank = 0;
      month_before = year * 12 + month;
      closing->rank = ++rank;
    }
}
