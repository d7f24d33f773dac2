/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How good a photo is to look at, as measured on its pixels: what is kept of it, what it is called,
 * and which photo of an item is shown first. Records of the catalogue layer; measuring is the
 * intake layer's business (intake/quality.h). */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/photos.h"

G_BEGIN_DECLS

/* What makes a photo poor. The word is shown with the symbol, never the symbol alone. */
#define SW_PHOTO_MARKS(X) /* tag, word, icon */                                                    \
  X (BLURRED, N_ ("blurred"), "sw-blurred-symbolic")                                               \
  X (DARK, N_ ("too dark"), "sw-dark-symbolic")                                                    \
  X (BRIGHT, N_ ("too bright"), "sw-bright-symbolic")                                              \
  X (COVERED, N_ ("lens covered"), "sw-covered-symbolic")

#define SW_PHOTO_MARK_AS_INDEX(tag, word, icon) SW_PHOTO_MARK_INDEX_##tag,
enum
{
  SW_PHOTO_MARKS (SW_PHOTO_MARK_AS_INDEX) SW_N_PHOTO_MARKS
};
#define SW_PHOTO_MARK_AS_BIT(tag, word, icon) SW_PHOTO_MARK_##tag = 1 << SW_PHOTO_MARK_INDEX_##tag,
typedef enum
{
  SW_PHOTO_MARKS (SW_PHOTO_MARK_AS_BIT)
} SwPhotoMark;

typedef struct
{
  gint64 photo;
  double sharpness; /* variance of the Laplacian of the luma at the measuring size */
  double focus; /* the same within the sharpest fields, by their contrast; content weighs less */
  int mean;     /* luma, 0 to 255 */
  int dark, bright; /* thousandths of the pixels that are black, or burnt out */
  int covered;      /* thousandths that a smooth blob from an edge hides */
  guint marks;      /* of SwPhotoMark; filled when it is put and when it is read */
} SwPhotoQuality;

/* What the measures amount to. Thresholds are ours, set on the demo's photos and on blurred,
 * darkened and covered ones made from them; each is meant to be sure before it speaks. */
guint sw_photo_marks_of (const SwPhotoQuality *quality);
/* Word and icon of the gravest mark (covered, blurred, dark, bright); NULL where there is none.
 * Transfer none. */
const char *sw_photo_mark_word (guint marks);
const char *sw_photo_mark_icon (guint marks);

/* Puts this in place of what was measured before; 'measure' is the version of the measuring. A
 * plain act: it can be worked out again. */
gboolean sw_photo_quality_put (SwCatalogue *catalogue, const SwPhotoQuality *quality, int measure,
                               GError **error);
/* *out_found FALSE: not measured yet. */
gboolean sw_photo_quality_get (SwCatalogue *catalogue, gint64 photo, SwPhotoQuality *out_quality,
                               gboolean *out_found, GError **error);
/* Of a trip (0: all), asides left out. GArray of SwPhotoQuality by photo, transfer full. */
GArray *sw_photo_quality_list (SwCatalogue *catalogue, gint64 trip, GError **error);
/* Photos that this version of the measuring or a later one has measured: GArray of gint64 by
 * number, transfer full. */
GArray *sw_photo_quality_measured (SwCatalogue *catalogue, int measure, GError **error);

/* Turns a photo by quarter turns, clockwise (negative: the other way), as it is shown everywhere;
 * the file and its orientation stay. An act that can be undone. */
gboolean sw_photo_turn (SwCatalogue *catalogue, gint64 photo, int quarters, GError **error);

/* Which photo stands for an item. A person's choice holds (sw_item_cover_set). Else: photos of the
 * item itself before wide views of several; unmarked before marked ones; of the unmarked those with
 * at least a third of the best one's focus; of those the first taken up. Of marked ones alone the
 * one with the best focus. */
/* photo 0: as proposed again. An act that can be undone. REFUSED where it is none of the item's
 * photos. */
gboolean sw_item_cover_set (SwCatalogue *catalogue, gint64 item, gint64 photo, GError **error);

G_END_DECLS
