/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Several items at once: the same change, step, question or job for each, as one act. All or
 * nothing: the first that is refused refuses the whole, and the sentence says which item. Records
 * of the catalogue layer. */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* What is done to one of them. */
typedef gboolean (*SwItemFunc) (SwCatalogue *catalogue, gint64 item, gpointer data, GError **error);
/* 'one' for each, in the order given; the act is told as "2 items: <what>". BAD_INPUT where none
 * is chosen. For steps see core/trade/taking-back.h. */
gboolean sw_items_each (SwCatalogue *catalogue, const gint64 *items, gsize n, const char *what,
                        SwItemFunc one, gpointer data, GError **error);

/* change->revision is not read. */
gboolean sw_items_change (SwCatalogue *catalogue, const gint64 *items, gsize n,
                          const SwItemChange *change, GError **error);

/* A rule for asking prices: so many percent more (or less), then to a multiple of 'step', half up.
 */
typedef struct
{
  gint64 percent_x100; /* hundredths of a percent: -1000 is 10% less; above -10000 */
  SwMoney step;        /* 0 or 1 minor unit: not rounded */
} SwPriceRule;
/* Items without an asking price are left as they are; *out_changed (may be NULL) counts the others.
 * REFUSED where none has one; BAD_INPUT for a rule that leaves nothing. */
gboolean sw_items_reprice (SwCatalogue *catalogue, const gint64 *items, gsize n,
                           const SwPriceRule *rule, guint *out_changed, GError **error);
/* "-10", "+5", "2.5 %", "2,5" as the person's locale writes numbers: into hundredths of a percent.
 * Error: BAD_INPUT. */
gboolean sw_price_rule_parse (const char *text, gint64 *out_percent_x100, GError **error);
/* What the rule makes of a price. */
gboolean sw_price_rule_apply (const SwPriceRule *rule, SwMoney asking, SwMoney *out_asking,
                              GError **error);

/* The same question about each of them. */
gboolean sw_items_ask (SwCatalogue *catalogue, const gint64 *items, gsize n, const char *text,
                       const char *person, const SwDay *by, GError **error);
/* The same job at each of them; see sw_job_add_with. */
gboolean sw_items_job (SwCatalogue *catalogue, const gint64 *items, gsize n, const char *kind,
                       const char *text, const char *tools, gint64 hands, GError **error);

G_END_DECLS
