/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items: what needs a decision, with one state and a history. Records of the catalogue layer.
 * The rules of the steps are in steps.h. */
#pragma once

#include "core/base/mass.h"
#include "core/catalogue/catalogue.h"
#include "core/catalogue/states.h"

G_BEGIN_DECLS

typedef enum
{
  SW_CLAIM_NONE,
  SW_CLAIM_OPEN, /* somebody has still to say */
  SW_CLAIM_MINE, /* somebody wants it */
  SW_N_CLAIMS,
} SwClaim;

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
  SwMass mass; /* of the whole count */
  char *mass_source;
  gint64 origin; /* 0: none */
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
gboolean sw_item_add (SwCatalogue *catalogue, const SwItemNew *item, gint64 *out_number,
                      GError **error);

SwItem *sw_item_get (SwCatalogue *catalogue, gint64 number, GError **error);
/* By number ("12") or exact name; a name that several bear is REFUSED naming their numbers. */
SwItem *sw_item_find (SwCatalogue *catalogue, const char *number_or_name, GError **error);
/* First item of that name (case folded) in the place, 0 for none. */
gboolean sw_item_in_place (SwCatalogue *catalogue, gint64 place, const char *name,
                           gint64 *out_number, GError **error);

typedef struct
{
  gint64 place;           /* 0: all */
  gboolean places_inside; /* with the places inside it */
  gint64 trip;            /* 0: all */
  const SwState *state;   /* NULL: all */
  const char *search;     /* NULL or words that the name must contain */
} SwItemFilter;
/* GPtrArray of SwItem by number. filter NULL: all. Transfer full. */
GPtrArray *sw_item_list (SwCatalogue *catalogue, const SwItemFilter *filter, GError **error);

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
  const char *mass_source; /* "typed" by default */
  const SwClaim *claim;
  const char *claim_by;
  const gboolean *never_offer; /* FALSE: cleared */
  const gint64 *cover;
} SwItemChange;
gboolean sw_item_change (SwCatalogue *catalogue, gint64 number, const SwItemChange *change,
                         GError **error);

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
/* GArray of gint64 photo numbers by position. Transfer full. */
GArray *sw_item_photos (SwCatalogue *catalogue, gint64 item, GError **error);

/* Facts, questions and jobs of an item, as rows to show. Transfer full GPtrArrays. */
typedef struct
{
  gint64 id, item;
  char *kind, *text, *source, *by_whom;
} SwFact;
void sw_fact_free (SwFact *fact);
gboolean sw_fact_add (SwCatalogue *catalogue, gint64 item, const char *kind, const char *text,
                      const char *source, const char *by_whom, gint64 *out_id, GError **error);
GPtrArray *sw_fact_list (SwCatalogue *catalogue, gint64 item, GError **error);

typedef struct
{
  gint64 id, item;
  char *text, *person, *answer;
  gboolean has_by;
  SwDay by;
} SwQuestion;
void sw_question_free (SwQuestion *question);
gboolean sw_question_add (SwCatalogue *catalogue, gint64 item, const char *text, const char *person,
                          const SwDay *by, gint64 *out_id, GError **error);
gboolean sw_question_answer (SwCatalogue *catalogue, gint64 id, const char *answer, GError **error);
/* item 0: the questions of all items. */
GPtrArray *sw_question_list (SwCatalogue *catalogue, gint64 item, GError **error);

typedef struct
{
  gint64 id, item, place;
  char *kind, *text;
  gboolean done;
} SwJob;
void sw_job_free (SwJob *job);
gboolean sw_job_add (SwCatalogue *catalogue, gint64 item, gint64 place, const char *kind,
                     const char *text, gint64 *out_id, GError **error);
gboolean sw_job_set_done (SwCatalogue *catalogue, gint64 id, gboolean done, GError **error);
/* item 0: the jobs of every item and place. */
GPtrArray *sw_job_list (SwCatalogue *catalogue, gint64 item, GError **error);

G_END_DECLS
