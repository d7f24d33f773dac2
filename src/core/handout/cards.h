/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Place cards for the doors and sheets of numbered tags, as a PDF to print. Handout layer.
 *
 * A card says its place in large words with a code below; photographed first on walking in, it puts
 * what follows into that place. A tag bears a number and a code; stuck on a thing and photographed
 * first, it makes the thing an item. What the codes say: core/match/codes.h. */
#pragma once

#include <cairo.h>

#include "core/catalogue/catalogue.h"
#include "core/handout/labels.h"

G_BEGIN_DECLS

/* Pages are ISO 216 A4: two cards a page (each an A5, lying), then tags of 3 x 8 a page. */
#define SW_CARDS_PAGE_WIDTH_MM 210.0
#define SW_CARDS_PAGE_HEIGHT_MM 297.0
#define SW_CARDS_A_PAGE 2
#define SW_TAGS_A_PAGE 24

typedef struct _SwCardSet SwCardSet;

/* The cards of all places on the property, in walking order, and n_tags tags from number first_tag
 * on; reads alone. NOT_FOUND where there is neither a place nor a tag. Transfer full. */
SwCardSet *sw_card_set_new (SwCatalogue *catalogue, gint64 first_tag, int n_tags, GError **error);
/* Tags alone, on that sheet (copied). */
SwCardSet *sw_tag_set_new (SwCatalogue *catalogue, const SwLabelSheet *sheet, gint64 first_tag,
                           int n_tags, GError **error);
void sw_card_set_free (SwCardSet *set);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwCardSet, sw_card_set_free)

/* How many cards or tags there are. */
int sw_card_set_n_cards (const SwCardSet *set);
/* How many sheets of paper they fill. */
int sw_card_set_n_pages (const SwCardSet *set);
/* Draws page 0 to n_pages - 1; the unit of the context is the millimetre. */
gboolean sw_card_set_draw (const SwCardSet *set, int page, cairo_t *cr, GError **error);
/* The whole as a PDF, the same bytes for the same set each time. Transfer full. */
GBytes *sw_card_set_pdf (const SwCardSet *set, GError **error);

typedef struct
{
  int cards, tags, pages;
  gint64 first_tag; /* 0: none */
} SwCardsReport;

/* Gives out n_tags new tag numbers (0: none) and writes cards and tags to 'path', whose name must
 * end in .pdf; a file of that name is replaced as a whole. Numbers that were given out are never
 * given out again, even where the writing fails at the last moment. Errors: BAD_INPUT (name,
 * number), NOT_FOUND (nothing to print), errno ones. */
gboolean sw_cards_write (SwCatalogue *catalogue, const char *path, int n_tags,
                         SwCardsReport *out_report, GError **error);
/* The same of tags alone; n_tags at least 1. */
gboolean sw_tags_write (SwCatalogue *catalogue, const SwLabelSheet *sheet, const char *path,
                        int n_tags, SwCardsReport *out_report, GError **error);

G_END_DECLS
