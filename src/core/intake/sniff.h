/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a file is, by its first bytes. Intake layer; touches no file and no database. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  SW_FILE_OTHER, /* nothing of ours: a text, an index file of the camera */
  SW_FILE_EMPTY, /* zero bytes */
  SW_FILE_JPEG,
  SW_FILE_PNG,
  SW_FILE_TIFF,
  SW_FILE_HEIF,
  SW_FILE_WEBP,
  SW_FILE_RAW,  /* the sensor's own data, beside a photo or alone */
  SW_FILE_CLIP, /* moving pictures */
  SW_FILE_MEMO, /* a voice memo */
} SwFileKind;

/* As many first bytes as the sniffer can use; fewer are fine. */
#define SW_SNIFF_BYTES 512

/* 'head' are the first bytes (at most SW_SNIFF_BYTES are looked at, NULL with length 0 is EMPTY).
 * 'name' is used only to tell raw files and audio apart from others with the same first bytes; may
 * be NULL. */
SwFileKind sw_sniff (const guint8 *head, gsize length, const char *name);

/* JPEG, PNG, TIFF, HEIF or WebP. */
gboolean sw_file_kind_is_photo (SwFileKind kind);
/* Raw, clip or memo: copied along with the photos. */
gboolean sw_file_kind_is_companion (SwFileKind kind);
/* "jpeg", "png", "tiff", "heic", "webp", "raw", "clip", "memo", "empty", "other". Transfer none. */
const char *sw_file_kind_word (SwFileKind kind);
/* Usual extension of a photo kind without the dot ("jpg"); NULL for the others. Transfer none. */
const char *sw_file_kind_extension (SwFileKind kind);
/* Whether the name ends in an extension that photos usually bear: a file of zero or unknown bytes
 * under such a name was meant to be a photo. */
gboolean sw_name_claims_photo (const char *name);

G_END_DECLS
