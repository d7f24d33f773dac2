/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The family choice: what still stands, with pictures and numbers, for relatives to say what they
 * would like to become of it. A page of HTML that needs no network (its pictures are inside, it may
 * load nothing, its one script is named by its hash), or the same on paper. What comes back is read
 * by answer-text.h. Handout layer.
 *
 * Pictures are made anew, small and without metadata. Buyers, offers, dates and days on site are
 * never in it; prices only when asked for. */
#pragma once

#include "core/catalogue/catalogue.h"
#include "core/intake/decoder.h"

G_BEGIN_DECLS

typedef struct
{
  const char *person; /* whose open questions are put, and whose name stands in the page; NULL: no
                         questions */
  gint64 place;       /* with the places inside it; 0: all */
  gint64 trip;        /* found on it; 0: all */
  gboolean prices;    /* with asking prices */
} SwFamilyWish;

typedef struct
{
  char *path; /* of the photo's file */
  int orientation;
} SwFamilyPhoto;

typedef struct
{
  gint64 id;
  char *text;
} SwFamilyQuestion;

typedef struct
{
  gint64 number, count;
  char *name, *place;
  GPtrArray *lines;     /* char *: what is known of it; guesses and hearsay say so */
  GPtrArray *cautions;  /* char * */
  GPtrArray *photos;    /* SwFamilyPhoto, the cover first */
  GPtrArray *questions; /* SwFamilyQuestion */
} SwFamilyItem;

typedef struct
{
  char *folder; /* the catalogue's */
  char *id;     /* the catalogue's */
  char *property;
  char *person;     /* NULL: nobody */
  GPtrArray *items; /* SwFamilyItem by place in walking order, then number */
} SwFamilyChoice;
void sw_family_choice_free (SwFamilyChoice *choice);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwFamilyChoice, sw_family_choice_free)

/* What is asked about: items that are Found, Ready, No sale, Bring home, At home or For scrap; what
 * is on offer, held or promised to somebody is settled first. On the catalogue's thread; transfer
 * full. Errors: BAD_INPUT (the name), NOT_FOUND (nothing to ask about). */
SwFamilyChoice *sw_family_choice_read (SwCatalogue *catalogue, const SwFamilyWish *wish,
                                       GError **error);

typedef struct
{
  int items, pictures, questions;
  int missing; /* photos of which no picture could be made */
  int pages;   /* of the paper; 0: a page of HTML */
  gint64 bytes;
} SwFamilyReport;

/* Makes the pictures and writes the file, as a whole or not at all: HTML where the name ends in
 * .html, paper where it ends in .pdf. Any thread. *done (atomic, may be NULL) counts the items
 * whose pictures are made. Errors: BAD_INPUT (another name), REFUSED (a folder, inside the
 * catalogue), NO_SPACE, FAILED, CANCELLED; nothing is left behind then. */
gboolean sw_family_choice_write (const SwFamilyChoice *choice, SwDecoder *decoder, const char *path,
                                 int *done, GCancellable *cancellable, SwFamilyReport *out_report,
                                 GError **error);

G_END_DECLS
