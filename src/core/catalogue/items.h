/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items: what needs a decision, with one state and a history. Records of the catalogue layer.
 * The rules of the steps are in steps.h. */
#pragma once

#include "core/base/mass.h"
#include "core/catalogue/catalogue.h"
#include "core/catalogue/sizes.h"
#include "core/catalogue/states.h"

G_BEGIN_DECLS

typedef enum
{
  SW_CLAIM_NONE,
  SW_CLAIM_OPEN, /* somebody has still to say */
  SW_CLAIM_MINE, /* somebody wants it */
  SW_N_CLAIMS,
} SwClaim;

/* The word in the database, in tables and in commands: "none", "open" or "mine". */
const char *sw_claim_key (SwClaim claim);
/* FALSE, with *out as it was, for a foreign word. */
gboolean sw_claim_from_key (const char *key, SwClaim *out);

/* What the deciding round put off. */
typedef enum
{
  SW_WAITS_NOT,
  SW_WAITS_PRICE, /* to be priced */
  SW_WAITS_LATER,
  SW_N_WAITS,
} SwWaits;

typedef struct
{
  gint64 id; /* the item's number */
  char *name;
  gboolean neutral;   /* the name was given by the machine ("thing 3 in Loft") */
  gint64 place, trip; /* trip 0: none */
  char *place_path;
  SwState state;
  gint64 count;
  gboolean has_asking;
  SwMoney asking; /* for the whole count */
  gboolean has_mass;
  SwMass mass;       /* of the whole count */
  char *mass_source; /* "weighed", "typed", "worked out", "size class" or "guessed" */
  char *mass_how;    /* from what it was worked out, in words; NULL: not said */
  gint64 origin;     /* 0: none */
  SwClaim claim;
  char *claim_by;
  gboolean never_offer;
  gboolean has_hold;
  SwDay hold_until;
  char *hold_for;
  gint64 cover; /* photo chosen by a person; 0: the one proposed */
  int n_photos;
  gint64 first_photo; /* the cover, else the one proposed (photo-quality.h); 0: none */
  gint64 revision;
  SwSize size;
  SwStows stows;
  gint64 length_mm, width_mm, height_mm; /* 0: not known */
  gboolean size_guessed;                 /* the three were guessed, not measured */
  gboolean has_reserve;
  SwMoney reserve; /* for the whole count */
  gint64 outlet;   /* where it is meant to go; 0: not said */
  char *outlet_name;
  gint64 lot; /* 0: none */
  char *lot_name;
  char *scrap_class; /* NULL: not said */
  SwWaits waits;
  int n_dangers, n_questions, n_jobs; /* that stand and are open */
  gboolean clash;                     /* more than one person says it is theirs */
} SwItem;
void sw_item_free (SwItem *item);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwItem, sw_item_free)

typedef struct
{
  const char *name;
  gint64 place, trip; /* trip 0: none */
  gint64 count;       /* 0 is taken as 1 */
  const SwMoney *asking;
  gboolean neutral;
} SwItemNew;
/* Adds it as Found, in one act with its event; its name is tidied. *out_number may be NULL. Errors:
 * BAD_INPUT (name, count, asking price), NOT_FOUND (place, trip). */
gboolean sw_item_add (SwCatalogue *catalogue, const SwItemNew *item, gint64 *out_number,
                      GError **error);

/* NOT_FOUND where it is none, or went into another one. Transfer full. */
SwItem *sw_item_get (SwCatalogue *catalogue, gint64 number, GError **error);
/* By number ("12") or exact name; a name that several bear is REFUSED naming their numbers. */
SwItem *sw_item_find (SwCatalogue *catalogue, const char *number_or_name, GError **error);
/* First item of that name (case folded) in the place, 0 for none. */
gboolean sw_item_in_place (SwCatalogue *catalogue, gint64 place, const char *name,
                           gint64 *out_number, GError **error);

/* What an item must have to be listed; bits. */
typedef enum
{
  SW_ITEM_WITH_DANGER = 1 << 0,
  SW_ITEM_WITH_QUESTION = 1 << 1, /* open */
  SW_ITEM_WITH_JOB = 1 << 2,      /* not done */
  SW_ITEM_TO_BE_PRICED = 1 << 3,  /* it stands and has no asking price */
  SW_ITEM_WITHOUT_PHOTO = 1 << 4,
  SW_ITEM_WITHOUT_SIZE = 1 << 5, /* neither class nor measures */
  SW_ITEM_WITH_CLAIM = 1 << 6,   /* open or mine */
  SW_ITEM_LATER = 1 << 7,
} SwItemNeed;

/* How a list is ordered; ties by number. What is missing comes last, whichever way. */
typedef enum
{
  SW_ITEMS_BY_NUMBER,
  SW_ITEMS_BY_STATE,
  SW_ITEMS_BY_NAME,
  SW_ITEMS_BY_PLACE,
  SW_ITEMS_BY_COUNT,
  SW_ITEMS_BY_ASKING,
  SW_ITEMS_BY_MASS,
  SW_ITEMS_BY_TRIP,
  SW_N_ITEM_ORDERS,
} SwItemOrder;

typedef struct
{
  gint64 place;           /* 0: all */
  gboolean places_inside; /* with the places inside it */
  gint64 trip;            /* 0: all */
  const SwState *state;   /* NULL: all */
  const char *search;     /* NULL, or words with which name, number, place, facts or tags begin */
  gint64 outlet, lot;     /* 0: all */
  guint needs;            /* SwItemNeed, all of them */
  const SwMoney *asking_least, *asking_most; /* NULL: no bound; else none without a price */
  const SwMass *mass_least, *mass_most;      /* of the whole count */
  SwItemOrder order;
  gboolean descending;
} SwItemFilter;
/* GPtrArray of SwItem in the filter's order. filter NULL: all, by number. Transfer full. */
GPtrArray *sw_item_list (SwCatalogue *catalogue, const SwItemFilter *filter, GError **error);
/* The numbers alone, in the filter's order: a fraction of the time, for a list that reads its rows
 * as they come into sight. GArray of gint64. Transfer full. */
GArray *sw_item_numbers (SwCatalogue *catalogue, const SwItemFilter *filter, GError **error);
/* So many rows a list reads at once: more than a window shows, and few enough for a keystroke. */
#define SW_ITEM_ROWS_AT_ONCE 200
/* The items of these numbers in this order, as a GPtrArray of SwItem; NULL where one is gone.
 * Transfer full. */
GPtrArray *sw_item_rows (SwCatalogue *catalogue, const gint64 *numbers, guint n, GError **error);
/* How many items still stand (sw_state_stands). */
gboolean sw_item_count_standing (SwCatalogue *catalogue, gint64 *out_n, GError **error);

/* Changes; each is an act with its event. Numbers: revision is what the caller saw, 0 for 'whatever
 * it is'; a mismatch is BUSY. NULL fields stay as they are. */
typedef struct
{
  gint64 revision;
  const char *name; /* a name given here is not neutral any more */
  const gint64 *place;
  const gint64 *trip; /* the trip that found it; 0: none */
  const gint64 *count;
  const SwMoney *asking;
  gboolean clear_asking;
  const SwMass *mass;
  const char *mass_source; /* "typed" by default; see SwItem */
  const char *mass_how;    /* with mass; NULL: nothing said */
  gboolean clear_mass;
  const SwClaim *claim;
  const char *claim_by;        /* whose claim; NULL with NONE: everybody's is settled */
  const gboolean *never_offer; /* FALSE: cleared */
  const gint64 *cover;
  const SwSize *size;
  const SwStows *stows;
  const gint64 *length_mm, *width_mm, *height_mm; /* 0: not known any more */
  const gboolean *size_guessed;
  const SwMoney *reserve;
  gboolean clear_reserve;
  const gint64 *outlet;    /* 0: not said any more */
  const char *scrap_class; /* "": not said any more */
  const SwWaits *waits;    /* an asking price ends PRICE by itself */
} SwItemChange;
gboolean sw_item_change (SwCatalogue *catalogue, gint64 number, const SwItemChange *change,
                         GError **error);

/* The mass guessed from its size class, for the whole count; REFUSED where no class is known. */
gboolean sw_item_mass_by_size (SwCatalogue *catalogue, gint64 number, GError **error);

/* Photos of an item. Assigning takes the photo from other items (not where 'also'); item 0 says
 * that it shows no item. What is assigned is decided: the machine never moves it. Unassign leaves
 * it open again. */
gboolean sw_item_assign (SwCatalogue *catalogue, gint64 item, const gint64 *photos, gsize n,
                         gboolean also, GError **error);
/* The photos show no item; kind says what they show: building, paper, receipt, mistake, or "" (NULL
 * too). A photo said so before takes the new kind. */
gboolean sw_item_assign_none (SwCatalogue *catalogue, const gint64 *photos, gsize n,
                              const char *kind, GError **error);
gboolean sw_item_unassign (SwCatalogue *catalogue, const gint64 *photos, gsize n, GError **error);
/* The photo becomes the item's photo 'to', counted from 1; past the last: the last. Wide views stay
 * behind the item's own photos. An act that can be undone; where it stands there already, none.
 * REFUSED where it is none of the item's photos or would leave its half. */
gboolean sw_item_photo_move (SwCatalogue *catalogue, gint64 item, gint64 photo, gint64 to,
                             GError **error);
/* GArray of gint64 photo numbers in their order. Transfer full. */
GArray *sw_item_photos (SwCatalogue *catalogue, gint64 item, GError **error);

G_END_DECLS
