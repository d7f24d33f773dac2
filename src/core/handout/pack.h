/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The offer pack: a folder with the photos of an offer or a lot and its title and text, to put it
 * up somewhere. Handout layer.
 *
 * Photos are made anew (out-photos.h). Of the catalogue's words only the item's name and facts, the
 * price and the outlet's terms go in: neither place, people nor days. */
#pragma once

#include "core/handout/out-photos.h"

G_BEGIN_DECLS

/* Pixels on the long side of a photo. */
#define SW_PACK_SIDE 2048

typedef struct
{
  char *folder; /* the catalogue's */
  char *stem;   /* a name for the pack's folder */
  char *title, *text;
  char *price_label; /* "Asking price", "Start price"; NULL: no price */
  char *price;       /* decimal point, no grouping; NULL: none */
  char *currency;
  guint left_out;    /* lines the outlet's limit left no room for */
  GPtrArray *names;  /* char *: people of the catalogue whom title or text name */
  GPtrArray *photos; /* SwOutPhoto in their order */
} SwPack;
void sw_pack_free (SwPack *pack);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPack, sw_pack_free)

/* Of an offer, by its ref. A title or text that a person wrote goes as it was written. Errors:
 * NOT_FOUND; REFUSED (title or text longer than the outlet takes, no offer but a sale or a docket;
 * never to be offered before cleared, claimed). Transfer full. */
SwPack *sw_pack_of_offer (SwCatalogue *catalogue, const char *ref, GError **error);
/* Of an item that may not be on offer yet; where it is in a lot, of the lot. */
SwPack *sw_pack_of_item (SwCatalogue *catalogue, gint64 item, GError **error);
/* Of items that are to be put up together, before they are a lot or on offer: 'outlet' (NULL: that
 * of the first which names one) says how long title and text may be. One item: as
 * sw_pack_of_item. BAD_INPUT: no item. */
SwPack *sw_pack_of_items (SwCatalogue *catalogue, const gint64 *items, gsize n, const char *outlet,
                          GError **error);

typedef struct
{
  guint photos, missing; /* written; no picture could be made of */
} SwPackReport;

/* Writes the folder 'path', where nothing or an empty folder is: photo-01.jpg and so on, offer.txt,
 * offer.html, offer.csv; the whole or nothing. keep (may be NULL: all) says which photos go, one
 * gboolean each. *done (atomic, may be NULL) counts photos. Any thread but the catalogue's. Errors:
 * REFUSED (something there, inside the catalogue), READ_ONLY, NOT_FOUND, NO_SPACE, CANCELLED,
 * FAILED. */
gboolean sw_pack_write (const SwPack *pack, SwDecoder *decoder, const gboolean *keep,
                        const char *path, int *done, GCancellable *cancellable,
                        SwPackReport *out_report, GError **error);

/* The texts as they are written; photos (char *) are file names beside them. Transfer full. */
char *sw_pack_plain (const SwPack *pack);
char *sw_pack_html (const SwPack *pack, const GPtrArray *photos);
/* RFC 4180: a header line and one row; what begins like a formula gets an apostrophe before it. */
char *sw_pack_csv (const SwPack *pack, const GPtrArray *photos);

G_END_DECLS
