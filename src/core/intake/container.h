/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finds the Exif block and the size of the picture inside a photo file. Intake layer.
 * Reads only what it must and never past bounds it has checked: every byte is hostile. */
#pragma once

#include "core/intake/sniff.h"

G_BEGIN_DECLS

/* A file to look into: its first bytes as they are at hand from copying, and a descriptor for the
 * rest. */
typedef struct
{
  const guint8 *head; /* may be NULL */
  gsize head_length;
  int fd; /* -1: there is only the head */
  guint64 size;
} SwPeek;

/* Reads exactly 'length' bytes at 'offset'; FALSE where the file is shorter or cannot be read. */
gboolean sw_peek_read (const SwPeek *peek, guint64 offset, void *out, gsize length);

typedef struct
{
  GBytes *exif; /* TIFF header first, gathered (see sw_tiff_gather); NULL where the file has none */
  guint width, height;       /* as stored, before orientation; 0 where unknown */
  guint64 pixels_at;         /* JPEG: where the coded picture begins; 0 unknown */
  gboolean cut_short;        /* the file ends inside its own structure */
  gboolean no_picture;       /* nothing but metadata: a header without pixels */
  gboolean exif_broken;      /* an Exif block is announced but cannot be reached */
  guint64 exif_at, exif_end; /* where in the file its TIFF header lies, and what lies behind the
                                block; 0 where 'exif' is not from a block */
} SwContainer;

/* Never fails: what cannot be read stays empty, and the flags say why. Clear with
 * sw_container_clear. */
void sw_container_read (const SwPeek *peek, SwFileKind kind, SwContainer *out);
void sw_container_clear (SwContainer *container);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwContainer, sw_container_clear)

/* Gathers the tags that a bring-in reads out of a TIFF structure of any size into one small block:
 * the directories of a file may lie gigabytes apart, and maker notes and the like never reach
 * another parser. 'base' is the offset of the TIFF header. NULL where there is none. Transfer full.
 */
GBytes *sw_tiff_gather (const SwPeek *peek, guint64 base, guint *out_width, guint *out_height,
                        gboolean *out_cut_short);
/* Finds the small JPEG picture that a camera puts behind its tags: the second directory of the
 * block names it (JPEGInterchangeFormat and JPEGInterchangeFormatLength, Exif 2.32, 4.5.5
 * and 4.6.4). 'base' is the offset of the TIFF header, 'peek' ends with the block: FALSE where
 * there is none, or where it does not lie within. *out_at is an offset in the file. */
gboolean sw_tiff_find_small (const SwPeek *peek, guint64 base, guint64 *out_at,
                             guint32 *out_length);
/* Takes the bytes at 'offset' as an Exif block, with or without "Exif\0\0" before the TIFF header;
 * the first block of a file counts. */
void sw_container_take_exif (const SwPeek *peek, guint64 offset, guint64 length, SwContainer *out);
/* Boxes of ISO/IEC 23008-12 (HEIF). Used by sw_container_read. */
void sw_heif_read (const SwPeek *peek, SwContainer *out);

G_END_DECLS
