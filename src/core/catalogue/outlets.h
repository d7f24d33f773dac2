/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlets, where something is sold or goes, and the dated charges of their terms. Records of the
 * catalogue layer. What a charge comes to is worked out in core/trade/terms.h. */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* X (tag, word in tables, database and window). */
#define SW_OUTLET_KINDS(X)                                                                         \
  X (AUCTION, N_ ("auction"))                                                                      \
  X (PRICED_AD, N_ ("priced ad"))                                                                  \
  X (SHOP_FLOOR, N_ ("shop floor"))                                                                \
  X (DEALER, N_ ("dealer"))                                                                        \
  X (SCRAP_YARD, N_ ("scrap yard"))                                                                \
  X (GIFT, N_ ("gift"))

#define SW_OUTLET_KIND_AS_ENUM(tag, word) SW_OUTLET_##tag,
typedef enum
{
  SW_OUTLET_KINDS (SW_OUTLET_KIND_AS_ENUM) SW_N_OUTLET_KINDS
} SwOutletKind;

/* What a charge is raised on. X (tag, word). OFFER is due for each offer, sold or not; the others
 * when sold. */
#define SW_CHARGE_BASES(X)                                                                         \
  X (OFFER, N_ ("offer"))                                                                          \
  X (SALE, N_ ("sale"))                                                                            \
  X (PRICE, N_ ("price"))                                                                          \
  X (PRICE_AND_DELIVERY, N_ ("price+delivery"))

#define SW_CHARGE_BASIS_AS_ENUM(tag, word) SW_CHARGE_##tag,
typedef enum
{
  SW_CHARGE_BASES (SW_CHARGE_BASIS_AS_ENUM) SW_N_CHARGE_BASES
} SwChargeBasis;

typedef struct
{
  gint64 id;
  char *name;
  gboolean has_kind;
  SwOutletKind kind;
  gint64 running_days, pay_days, collect_days; /* -1: not said */
  SwRounding rounding;
} SwOutlet;
void sw_outlet_free (SwOutlet *outlet);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwOutlet, sw_outlet_free)

/* One dated version of a charge: it replaces the earlier one of the same outlet and name from its
 * day on. */
typedef struct
{
  gint64 id, outlet;
  char *name;
  SwDay from;
  gboolean ends; /* from this day on there is no such charge; the fields below are unused */
  SwChargeBasis basis;
  SwMoney flat; /* OFFER and SALE */
  char *tiers;  /* PRICE and PRICE_AND_DELIVERY: "500.00:10%;:4%"; else NULL */
  gboolean has_least, has_most;
  SwMoney least, most;
  char *tax;          /* percent without its sign, "17.5"; NULL: none */
  gint64 free_offers; /* offers of a calendar month that are not charged */
} SwCharge;
void sw_charge_free (SwCharge *charge);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwCharge, sw_charge_free)

/* In English, as tables have it; static, to be translated where a person reads it. */
const char *sw_outlet_kind_word (SwOutletKind kind);
/* By word, without case, hyphens as blanks. FALSE where there is none. */
gboolean sw_outlet_kind_parse (const char *word, SwOutletKind *out_kind);
const char *sw_charge_basis_word (SwChargeBasis basis);
gboolean sw_charge_basis_parse (const char *word, SwChargeBasis *out_basis);

/* Enters the outlet, or brings the one of that exact name up to date (id is not read). */
gboolean sw_outlet_put (SwCatalogue *catalogue, const SwOutlet *outlet, gint64 *out_id,
                        GError **error);
/* By exact name; NULL without an error where there is none. Transfer full. */
gboolean sw_outlet_find (SwCatalogue *catalogue, const char *name, SwOutlet **out_outlet,
                         GError **error);
/* GPtrArray of SwOutlet by name, as the locale sorts. Transfer full. */
GPtrArray *sw_outlet_list (SwCatalogue *catalogue, GError **error);

/* Enters the version, or replaces the one of the same outlet, name and day (id is not read). */
gboolean sw_charge_put (SwCatalogue *catalogue, const SwCharge *charge, GError **error);
/* GPtrArray of SwCharge, all versions, by name, then day. Transfer full. */
GPtrArray *sw_charge_list (SwCatalogue *catalogue, gint64 outlet, GError **error);

/* The heading under which the outlet's statements hold a field; kept for the next one. Transfer
 * full, *out_heading NULL where none is known. */
gboolean sw_statement_column_put (SwCatalogue *catalogue, gint64 outlet, const char *field,
                                  const char *heading, GError **error);
gboolean sw_statement_column_get (SwCatalogue *catalogue, gint64 outlet, const char *field,
                                  char **out_heading, GError **error);

G_END_DECLS
