/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pixels, decoded in helper processes: pictures are hostile, and a crash there costs one picture.
 * Intake layer. The client side; the helper itself is decode-helper.h. */
#pragma once

#include "core/catalogue/photo-codes.h"
#include "core/catalogue/photo-quality.h"

G_BEGIN_DECLS

typedef struct _SwDecoder SwDecoder;

/* A decoded picture, upright, at most the asked size, and what was measured on it. */
typedef struct
{
  guint width, height;               /* of 'rgb' */
  guint full_width, full_height;     /* upright, before scaling */
  guint scaled_width, scaled_height; /* of what a part was cut from, else those of 'rgb' */
  GBytes *rgb;                       /* 3 bytes a pixel, rows without padding */
  guint64 dhash;                     /* 64-bit difference hash of the luma */
  guint8 grid[64];                   /* mean luma of 8 x 8 fields, row by row */
  SwPhotoQuality quality;            /* without 'photo' and 'marks'; zeros for a part */
  GPtrArray *codes; /* SwPhotoCode (without 'photo'), the largest first; NULL: not looked for */
} SwPicture;
void sw_picture_free (SwPicture *picture);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPicture, sw_picture_free)

/* What sw_decoder_new starts where no program is named, in the whole process; copied. Until it is
 * called that is this program itself. To be called once, before any thread. */
void sw_decoder_set_program (const char *program);

/* 'program' is started with --decode (NULL: see above). 'n_helpers' 0: one a processor.
 * Helpers start when first needed. Thread-safe: as many threads as there are helpers decode at
 * once, the others wait. */
SwDecoder *sw_decoder_new (const char *program, guint n_helpers);
void sw_decoder_free (SwDecoder *decoder);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwDecoder, sw_decoder_free)
/* How long one picture may take, in microseconds of time that passes (sleep of the machine not
 * counted); then it is given up and its helper ended. A minute by default. Before the first
 * picture. */
void sw_decoder_set_patience (SwDecoder *decoder, gint64 patience_us);
guint sw_decoder_n_helpers (const SwDecoder *decoder);

/* Decodes the file at 'path' to at most max_side pixels on its long side (never enlarged), turned
 * by the Exif value 'orientation' (ignored for HEIF, whose pixels follow their own turn). Blocks;
 * transfer full. Errors: NOT_FOUND, BAD_INPUT (no picture can be made of it, too large, helper died
 * or took too long), CANCELLED. */
SwPicture *sw_decoder_decode (SwDecoder *decoder, const char *path, int orientation, guint max_side,
                              GCancellable *cancellable, GError **error);
/* The same, and looks for QR codes, on a picture of 1,600 to 2,048 pixels. Where a code is a trap
 * that costs a helper its life the picture comes without codes. */
SwPicture *sw_decoder_decode_with_codes (SwDecoder *decoder, const char *path, int orientation,
                                         guint max_side, GCancellable *cancellable, GError **error);

/* A part of a picture, as a view needs it: it is scaled to max_side, turned upright and then by
 * 'turn' quarters clockwise; of that x, y, width and height are cut out, cut off where the picture
 * ends. */
typedef struct
{
  int orientation, turn;
  guint max_side, x, y, width, height;
} SwDecodePart;
/* As sw_decoder_decode; nothing is measured. BAD_INPUT too where the part lies outside. */
SwPicture *sw_decoder_decode_part (SwDecoder *decoder, const char *path, const SwDecodePart *part,
                                   GCancellable *cancellable, GError **error);

/* A photo whose small picture is wanted: the one that its camera put into the header. */
typedef struct
{
  const char *path;
  int orientation; /* Exif value */
  SwPicture
      *picture; /* given back, transfer full; nothing is measured. NULL: there is none of use */
} SwSmallWish;
/* Reads the small pictures of 'n' JPEG photos, at most max_side pixels on the long side, upright,
 * without black bars: some thousand a second and helper. Blocks. What is absent, damaged, of
 * another shape than the photo or of another kind than JPEG stays NULL, as does what cost a helper
 * its life: the photo's own pixels are then to be decoded anyway. */
void sw_decoder_read_small (SwDecoder *decoder, SwSmallWish *wishes, guint n, guint max_side);

/* Which codes are found. Raise it when more are: all photos are then looked at again. */
#define SW_CODE_READER_VERSION 2

/* Differing bits of two hashes, 0 to 64. */
guint sw_dhash_distance (guint64 a, guint64 b);

/* What is kept of a picture for comparing: dhash (8 bytes, big-endian), grid (64 bytes). Transfer
 * full. */
GBytes *sw_likeness_pack (const SwPicture *picture);
/* FALSE where the bytes are not such. */
gboolean sw_likeness_unpack (GBytes *likeness, guint64 *out_dhash, guint8 out_grid[64]);

G_END_DECLS
