/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The closing night: offers in the order in which they close, results caught as they come, a
 * verdict for each that found no buyer, and the confirmation that books them. Trade layer.
 * A caught result is safe at once (one act, undone like any other) and moves no item: a price can
 * rise again in the last seconds, and it is final only once the person confirms it. */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/items.h"
#include "core/catalogue/offer-notes.h"
#include "core/trade/van-fit.h"

G_BEGIN_DECLS

/* What becomes of a thing that did not sell. X (tag, word kept and shown, state it goes to). AGAIN
 * keeps the outlet for the next round, ELSEWHERE leaves it open; LATER leaves it No sale, to be
 * decided one by one. */
#define SW_VERDICTS(X)                                                                             \
  X (AGAIN, N_ ("again"), SW_STATE_READY)                                                          \
  X (ELSEWHERE, N_ ("elsewhere"), SW_STATE_READY)                                                  \
  X (BRING_HOME, N_ ("bring home"), SW_STATE_BRING_HOME)                                           \
  X (FOR_SCRAP, N_ ("for scrap"), SW_STATE_FOR_SCRAP)                                              \
  X (BREAK_UP, N_ ("break up"), SW_STATE_BROKEN_UP)                                                \
  X (KEEP, N_ ("keep"), SW_STATE_KEPT)                                                             \
  X (GIVE_AWAY, N_ ("give away"), SW_STATE_GIVEN_AWAY)                                             \
  X (LATER, N_ ("later"), SW_STATE_NO_SALE)
#define SW_VERDICT_AS_ENUM(tag, word, state) SW_VERDICT_##tag,
typedef enum
{
  SW_VERDICTS (SW_VERDICT_AS_ENUM) SW_N_VERDICTS
} SwVerdict;
const char *sw_verdict_word (SwVerdict verdict);
SwState sw_verdict_state (SwVerdict verdict);
gboolean sw_verdict_parse (const char *word, SwVerdict *out_verdict);

/* What to make of a thing whose price is set against its scrap floor. */
typedef enum
{
  SW_FLOOR_UNKNOWN, /* no floor, or no price */
  SW_FLOOR_BELOW,   /* the price lies under what the yard would pay */
  SW_FLOOR_ABOVE,   /* at least as much */
} SwFloorVerdict;

typedef struct
{
  gint64 deal, outlet;
  char *ref, *own_ref;       /* own_ref NULL: none */
  char *outlet_name, *items; /* names joined by " + " */
  GArray *numbers;           /* gint64 */
  gint64 photo;              /* of the first item; 0: none */
  gboolean has_closes;
  SwInstant closes;
  gboolean has_start, has_reserve, has_hoped, has_asking, has_mass, has_floor;
  SwMoney start, reserve, hoped, asking; /* asking: of all items together */
  SwMass mass;                           /* of all items together */
  SwMoney floor;                         /* of all items together */
  SwFloorVerdict against_floor;          /* what was asked, against the floor */
  gboolean needs_machine;                /* one of its items is no lift for people */
  SwVanFit van;                          /* of the item that fits worst */
  gboolean has_interest;
  SwInterest interest; /* the latest */
  guint enquiries;     /* how many asked or bid by name or by word */
  gboolean is_held;
  SwDay held;         /* is_held: the last day of the hold */
  SwInstant held_end; /* and where that day ends */
  SwResult result;    /* RUNNING until confirmed */
  SwMoney amount;     /* SOLD */
  gboolean has_caught;
  SwCaught caught;
  gboolean to_withdraw; /* one of its items is sold elsewhere, or was taken back by hand */
} SwRunRow;
void sw_run_row_free (SwRunRow *row);

/* The offers that close from 'from' until before 'until', in closing order; GPtrArray of SwRunRow,
 * transfer full. */
GPtrArray *sw_run_sheet (SwCatalogue *catalogue, SwInstant from, SwInstant until, GError **error);
/* All running offers, by closing time; those without one last. */
GPtrArray *sw_run_running (SwCatalogue *catalogue, GError **error);
/* The span to show at a moment: from the noon before to the noon after, in the catalogue's zone, of
 * the running offer that closes next (or closed last without a result); FALSE where there is none.
 * Nights cross midnight, noons do not. */
gboolean sw_run_next_night (SwCatalogue *catalogue, SwInstant now, gboolean *out_found,
                            SwInstant *out_from, SwInstant *out_until, GError **error);

/* A night on which offers close that have no result yet. */
typedef struct
{
  SwInstant from, until; /* noon to noon */
  guint open;            /* offers without a result that is booked */
} SwRunNight;
/* The latest of those that end before or where the span of another begins; *out_found FALSE: none.
 */
gboolean sw_run_earlier_night (SwCatalogue *catalogue, SwInstant from, gboolean *out_found,
                               SwRunNight *out_night, GError **error);

/* Catches a result of a running offer: SOLD for 'amount', or NO_SALE (amount unused). Errors:
 * REFUSED (it has ended, or is no offer), BAD_INPUT. */
gboolean sw_run_catch (SwCatalogue *catalogue, gint64 deal, SwResult result, SwMoney amount,
                       GError **error);
/* The verdict for it, which says no sale too where nothing was caught. REFUSED for one that is
 * caught as sold. Confirmed no sales take their verdict at once, as a step of their items. */
gboolean sw_run_verdict (SwCatalogue *catalogue, gint64 deal, SwVerdict verdict, GError **error);
/* What was caught is taken back; REFUSED once it is confirmed (undo takes that back). */
gboolean sw_run_take_back (SwCatalogue *catalogue, gint64 deal, GError **error);

/* Books what was caught of these offers (n 0: of all), each at its closing time, or when it was
 * caught where it has none, and takes the steps of the verdicts. One act; a step that is refused
 * (again, and no price is asked) leaves its item No sale, with a sentence in *out_remarks
 * (GPtrArray of char *, transfer full; may be NULL). *out_booked (may be NULL) says how many. */
gboolean sw_run_confirm (SwCatalogue *catalogue, const gint64 *deals, gsize n, guint *out_booked,
                         GPtrArray **out_remarks, GError **error);

/* The span's money as if all that was caught were confirmed, fees by the terms with free offers
 * counted: worked out by booking it and taking that back, so it is what confirming would give. */
typedef struct
{
  guint offers, sold, no_sale, open;
  SwMoney proceeds, fees, leaves;
} SwRunTotals;
gboolean sw_run_totals (SwCatalogue *catalogue, SwInstant from, SwInstant until,
                        SwRunTotals *out_totals, GError **error);

G_END_DECLS
