/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One act over several items. The rules are those of the single items. */
#include "core/catalogue/many.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/questions.h"

static gboolean
check_n (gsize n, GError **error)
{
  if (n > 0)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("No item is chosen; choose some first."));
  return FALSE;
}

/* "14 items: Kept" */
static char *
sentence_of (gsize n, const char *what)
{
  return sw_text_counted ((gint64)n, "%zu item: %s", "%zu items: %s", n, what);
}

gboolean
sw_items_each (SwCatalogue *catalogue, const gint64 *items, gsize n, const char *what,
               SwItemFunc one, gpointer data, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!check_n (n, error) || !sw_act_begin (&act, catalogue, error))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    if (!one (catalogue, items[i], data, error))
      return FALSE;
  g_autofree char *sentence = sentence_of (n, what);
  return sw_act_commit (&act, sentence, error);
}

static gboolean
change_one (SwCatalogue *catalogue, gint64 item, gpointer data, GError **error)
{
  SwItemChange change = *(const SwItemChange *)data;
  change.revision = 0;
  return sw_item_change (catalogue, item, &change, error);
}

gboolean
sw_items_change (SwCatalogue *catalogue, const gint64 *items, gsize n, const SwItemChange *change,
                 GError **error)
{
  const char *what = change->place != NULL    ? _ ("another place")
                     : change->outlet != NULL ? _ ("another outlet")
                                              : _ ("changed");
  return sw_items_each (catalogue, items, n, what, change_one, (gpointer)change, error);
}

gboolean
sw_price_rule_parse (const char *text, gint64 *out_percent_x100, GError **error)
{
  g_autofree char *tidy = sw_text_tidy (text);
  gsize n = strlen (tidy);
  gboolean less = *tidy == '-';
  SwMoney size;
  /* a percent with two decimals reads like an amount with two */
  static const SwCurrency hundredths = { "", 2 };
  if (n > 0 && tidy[n - 1] == '%')
    tidy[n - 1] = '\0';
  g_strchomp (tidy);
  if (!sw_money_parse_local (tidy + (less || *tidy == '+' ? 1 : 0), hundredths, sw_number_style (),
                             &size, NULL))
    {
      g_autofree char *shown = sw_text_quote (text);
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("%s is no percentage; write it like -10 or 2.5."), shown);
      return FALSE;
    }
  *out_percent_x100 = less ? -size.minor : size.minor;
  return TRUE;
}

gboolean
sw_price_rule_apply (const SwPriceRule *rule, SwMoney asking, SwMoney *out_asking, GError **error)
{
  if (rule->percent_x100 <= -10000 || rule->percent_x100 > 1000000 || rule->step.minor < 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("A rule for prices lies above -100%% and not beyond 10000%%."));
      return FALSE;
    }
  SwMoney changed;
  if (!sw_money_scale (asking, 10000 + rule->percent_x100, 10000, SW_ROUND_HALF_UP, &changed,
                       error))
    return FALSE;
  if (rule->step.minor > 1)
    {
      SwMoney steps;
      if (!sw_money_scale (changed, 1, rule->step.minor, SW_ROUND_HALF_UP, &steps, error)
          || !sw_money_scale (steps, rule->step.minor, 1, SW_ROUND_HALF_UP, &changed, error))
        return FALSE;
    }
  *out_asking = changed;
  return TRUE;
}

typedef struct
{
  const SwPriceRule *rule;
  guint changed;
} Reprice;

static gboolean
reprice_one (SwCatalogue *catalogue, gint64 number, gpointer data, GError **error)
{
  Reprice *reprice = data;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  SwMoney asking;
  if (item == NULL)
    return FALSE;
  if (!item->has_asking)
    return TRUE;
  if (!sw_price_rule_apply (reprice->rule, item->asking, &asking, error))
    return FALSE;
  reprice->changed++;
  SwItemChange change = { .asking = &asking };
  return asking.minor == item->asking.minor || sw_item_change (catalogue, number, &change, error);
}

gboolean
sw_items_reprice (SwCatalogue *catalogue, const gint64 *items, gsize n, const SwPriceRule *rule,
                  guint *out_changed, GError **error)
{
  Reprice reprice = { .rule = rule };
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!check_n (n, error) || !sw_act_begin (&act, catalogue, error))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    if (!reprice_one (catalogue, items[i], &reprice, error))
      return FALSE;
  if (reprice.changed == 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("None of these items has an asking price to change; set prices first."));
      return FALSE;
    }
  gint64 size = ABS (rule->percent_x100);
  g_autofree char *what
      = g_strdup_printf (_ ("asking prices %s%" PRId64 ".%02" PRId64 "%%"),
                         rule->percent_x100 < 0 ? "-" : "+", size / 100, size % 100);
  g_autofree char *sentence = sentence_of (reprice.changed, what);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_changed != NULL)
    *out_changed = reprice.changed;
  return TRUE;
}

typedef struct
{
  const char *text, *person;
  const SwDay *by;
} Ask;

static gboolean
ask_one (SwCatalogue *catalogue, gint64 item, gpointer data, GError **error)
{
  const Ask *ask = data;
  return sw_question_add (catalogue, item, ask->text, ask->person, ask->by, NULL, error);
}

gboolean
sw_items_ask (SwCatalogue *catalogue, const gint64 *items, gsize n, const char *text,
              const char *person, const SwDay *by, GError **error)
{
  Ask ask = { text, person, by };
  gboolean named = person != NULL && *person != '\0';
  g_autofree char *what
      = g_strdup_printf (_ ("to ask%s%.80s"), named ? " " : "", named ? person : "");
  return sw_items_each (catalogue, items, n, what, ask_one, &ask, error);
}

typedef struct
{
  const char *kind, *text, *tools;
  gint64 hands;
} Job;

static gboolean
job_one (SwCatalogue *catalogue, gint64 item, gpointer data, GError **error)
{
  const Job *job = data;
  return sw_job_add_with (catalogue, item, 0, job->kind, job->text, job->tools, job->hands, NULL,
                          error);
}

gboolean
sw_items_job (SwCatalogue *catalogue, const gint64 *items, gsize n, const char *kind,
              const char *text, const char *tools, gint64 hands, GError **error)
{
  Job job = { kind, text, tools, hands };
  g_autofree char *what = g_strdup_printf (_ ("to %.80s"), _ (kind));
  return sw_items_each (catalogue, items, n, what, job_one, &job, error);
}
