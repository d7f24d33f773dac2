/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a record of ended offers tells of the next one: the chance that it sells and the price it
 * brings. Trade layer; figures in, figures out: knows no database. Estimates only, so floating
 * point; no amount of money is made here.
 *
 * The chance: logit p = a + outlet + kind + b price + c interest, each with a normal prior (the
 * table SW_OUTLOOK_CHANCE below), found at its most likely point with the curvature there for the
 * spread (Laplace's method; Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, sections 4.1 and
 * 16.3). Outlets and kinds with few cases are so pulled to the overall rate.
 * The price: log (price / asking) is linear in the same terms (SW_OUTLOOK_RATIO) with a normal
 * error whose variance is pulled to its own prior; exact, conjugate (section 14.8 of the same). */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* X (tag, mean, standard deviation) of each term's prior. The stated prior: tests draw sellers from
 * it. Set by judgement: half of all offers sell, an outlet shifts the odds by a factor of e either
 * way, asking twice as much lowers the chance, interest raises it. */
#define SW_OUTLOOK_CHANCE(X)                                                                       \
  X (OVERALL, 0.0, 1.2)                                                                            \
  X (PRICE, -0.7, 0.5)                                                                             \
  X (INTEREST, 0.6, 0.4)                                                                           \
  X (OUTLET, 0.0, 1.0)                                                                             \
  X (KIND, 0.0, 0.6)
/* Of log (price / asking): what sells brings a little less than was asked. */
#define SW_OUTLOOK_RATIO(X)                                                                        \
  X (OVERALL, -0.15, 0.3)                                                                          \
  X (PRICE, 0.2, 0.2)                                                                              \
  X (INTEREST, 0.1, 0.1)                                                                           \
  X (OUTLET, 0.0, 0.2)                                                                             \
  X (KIND, 0.0, 0.2)
/* Its error: standard deviation, and how many cases that prior is worth. */
#define SW_OUTLOOK_ERROR_SD 0.3
#define SW_OUTLOOK_ERROR_CASES 8.0

#define SW_TERM_AS_ENUM(tag, mean, sd) SW_TERM_##tag,
typedef enum
{
  SW_OUTLOOK_CHANCE (SW_TERM_AS_ENUM) SW_N_TERMS
} SwTerm;

/* An ended offer, or one to be judged. */
typedef struct
{
  int outlet;      /* 0 to n_outlets - 1 */
  int kind;        /* 0 to n_kinds - 1; -1: of no kind that is told apart */
  double price;    /* log (start / asking); 0 where not known */
  double interest; /* sw_outlook_interest of the offer before; 0 where there was none */
  gboolean sold;   /* ended ones */
  gboolean has_ratio;
  double ratio; /* log (price / asking) of a sold one */
} SwOutlookCase;

/* Interest as one figure: 0 where nothing is known (all three below 0), else about -1 (none at all)
 * to 3. A bid weighs as three followers, a follower as fifty looks; common practice, no source. */
double sw_outlook_interest (gint64 looks, gint64 followers, gint64 bids);

typedef struct _SwOutlookModel SwOutlookModel;
/* Learns from n cases (0 is fine: the prior alone). Work grows with n and with the cube of
 * n_outlets + n_kinds. Never fails. */
SwOutlookModel *sw_outlook_model_fit (const SwOutlookCase *cases, gsize n, int n_outlets,
                                      int n_kinds);
void sw_outlook_model_free (SwOutlookModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwOutlookModel, sw_outlook_model_free)

typedef struct
{
  double chance;    /* mean */
  double low, high; /* 10 % of the belief lies below, 10 % above */
  double ratio;     /* expected price / asking if it sells */
  int cases;        /* ended offers in this outlet */
} SwOutlookGuess;
/* What the model holds of such an offer. Never fails. */
void sw_outlook_model_guess (const SwOutlookModel *model, const SwOutlookCase *what,
                             SwOutlookGuess *out);

G_END_DECLS
