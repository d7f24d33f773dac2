/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a file is, by its first bytes. Pure: bytes in, a kind out. The name decides only where
 * formats share their first bytes (raw files are TIFF inside, audio shares its container with
 * video). */
#include "core/intake/sniff.h"
#include "core/base/language.h"

#include <string.h>

typedef struct
{
  gsize offset;
  const char *bytes;
  gsize length;
  SwFileKind kind;
} Magic;

#define MAGIC(offset, text, kind)                                                                  \
  {                                                                                                \
    offset, text, sizeof (text) - 1, kind                                                          \
  }

/* First match counts: the longer and rarer signatures stand above the shorter ones. */
static const Magic magics[] = {
  MAGIC (0, "\xFF\xD8\xFF", SW_FILE_JPEG),
  MAGIC (0, "\x89PNG\r\n\x1A\n", SW_FILE_PNG),
  MAGIC (0, "FUJIFILMCCD-RAW", SW_FILE_RAW),
  MAGIC (0, "FOVb", SW_FILE_RAW),
  MAGIC (0, "IIRO", SW_FILE_RAW),
  MAGIC (0, "IIRS", SW_FILE_RAW),
  MAGIC (0, "MMOR", SW_FILE_RAW),
  MAGIC (0, "IIU\0", SW_FILE_RAW),
  MAGIC (0, "II\x1A\0\0\0HEAPCCDR", SW_FILE_RAW),
  MAGIC (0, "\0MRM", SW_FILE_RAW),
  MAGIC (0, "II*\0", SW_FILE_TIFF),
  MAGIC (0, "MM\0*", SW_FILE_TIFF),
  MAGIC (0, "\x1A\x45\xDF\xA3", SW_FILE_CLIP),
  MAGIC (0, "\0\0\x01\xBA", SW_FILE_CLIP),
  MAGIC (0, "\0\0\x01\xB3", SW_FILE_CLIP),
  MAGIC (0, "0&\xB2u\x8E\x66\xCF\x11", SW_FILE_CLIP),
  MAGIC (4, "moov", SW_FILE_CLIP),
  MAGIC (4, "mdat", SW_FILE_CLIP),
  MAGIC (4, "wide", SW_FILE_CLIP),
  MAGIC (0, "#!AMR", SW_FILE_MEMO),
  MAGIC (0, "OggS", SW_FILE_MEMO),
  MAGIC (0, "fLaC", SW_FILE_MEMO),
  MAGIC (0, "caff", SW_FILE_MEMO),
  MAGIC (0, "ID3", SW_FILE_MEMO),
  MAGIC (0, "\xFF\xF1", SW_FILE_MEMO),
  MAGIC (0, "\xFF\xF9", SW_FILE_MEMO),
  MAGIC (0, "\xFF\xFB", SW_FILE_MEMO),
  MAGIC (0, "\xFF\xF3", SW_FILE_MEMO),
};

/* Major brands of ISO/IEC 14496-12 files. Anything else with 'ftyp' is a clip. */
static const struct
{
  char brand[5];
  SwFileKind kind;
} brands[] = {
  { "heic", SW_FILE_HEIF }, { "heix", SW_FILE_HEIF }, { "heim", SW_FILE_HEIF },
  { "heis", SW_FILE_HEIF }, { "mif1", SW_FILE_HEIF }, { "mif2", SW_FILE_HEIF },
  { "msf1", SW_FILE_HEIF }, { "hevc", SW_FILE_HEIF }, { "hevx", SW_FILE_HEIF },
  { "avif", SW_FILE_HEIF }, { "avis", SW_FILE_HEIF }, { "crx ", SW_FILE_RAW },
  { "M4A ", SW_FILE_MEMO }, { "M4B ", SW_FILE_MEMO }, { "F4A ", SW_FILE_MEMO },
};

static const char *const raw_extensions[] = {
  "3fr", "arw", "cr2", "cr3", "crw", "dcr", "dng", "erf", "iiq", "kdc", "mef", "mos", "mrw",
  "nef", "nrw", "orf", "pef", "raf", "raw", "rw2", "rwl", "sr2", "srf", "srw", "x3f", NULL,
};
static const char *const memo_extensions[] = {
  "3ga", "aac", "amr", "m4a", "m4b", "mp3", "oga", "ogg", "opus", "wav", NULL,
};
static const char *const photo_extensions[] = {
  "avif", "heic", "heif", "hif", "jfif", "jpe", "jpeg", "jpg", "png", "tif", "tiff", "webp", NULL,
};

static gboolean
has_extension (const char *name, const char *const *extensions)
{
  const char *dot = name != NULL ? strrchr (name, '.') : NULL;

  if (dot == NULL)
    return FALSE;
  for (; *extensions != NULL; extensions++)
    if (g_ascii_strcasecmp (dot + 1, *extensions) == 0)
      return TRUE;
  return FALSE;
}

static SwFileKind
sniff_boxes (const guint8 *head, const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS (brands); i++)
    if (memcmp (head + 8, brands[i].brand, 4) == 0)
      return brands[i].kind;
  return has_extension (name, memo_extensions) ? SW_FILE_MEMO : SW_FILE_CLIP;
}

static SwFileKind
sniff_riff (const guint8 *head)
{
  if (memcmp (head + 8, "WEBP", 4) == 0)
    return SW_FILE_WEBP;
  if (memcmp (head + 8, "WAVE", 4) == 0)
    return SW_FILE_MEMO;
  return memcmp (head + 8, "AVI ", 4) == 0 ? SW_FILE_CLIP : SW_FILE_OTHER;
}

/* MPEG transport streams have no header, only a sync byte every 188 bytes (192 on cards, with a
 * time stamp first). */
static gboolean
is_transport_stream (const guint8 *head, gsize length)
{
  return (length > 376 && head[0] == 0x47 && head[188] == 0x47 && head[376] == 0x47)
         || (length > 388 && head[4] == 0x47 && head[196] == 0x47 && head[388] == 0x47);
}

SwFileKind
sw_sniff (const guint8 *head, gsize length, const char *name)
{
  if (length == 0)
    return SW_FILE_EMPTY;
  if (length >= 12 && memcmp (head + 4, "ftyp", 4) == 0)
    return sniff_boxes (head, name);
  if (length >= 12 && memcmp (head, "RIFF", 4) == 0)
    return sniff_riff (head);
  for (gsize i = 0; i < G_N_ELEMENTS (magics); i++)
    {
      const Magic *m = &magics[i];

      if (length < m->offset + m->length || memcmp (head + m->offset, m->bytes, m->length) != 0)
        continue;
      if (m->kind == SW_FILE_TIFF && has_extension (name, raw_extensions))
        return SW_FILE_RAW;
      if (m->kind == SW_FILE_TIFF && length >= 11 && memcmp (head + 8, "CR\2", 3) == 0)
        return SW_FILE_RAW;
      if (m->kind == SW_FILE_MEMO && m->length == 2 && !has_extension (name, memo_extensions))
        continue;
      return m->kind;
    }
  return is_transport_stream (head, MIN (length, SW_SNIFF_BYTES)) ? SW_FILE_CLIP : SW_FILE_OTHER;
}

/* In the order of the enum. */
static const struct
{
  const char *word;
  const char *extension;
} kinds[] = {
  [SW_FILE_OTHER] = { "other", NULL }, [SW_FILE_EMPTY] = { "empty", NULL },
  [SW_FILE_JPEG] = { "jpeg", "jpg" },  [SW_FILE_PNG] = { "png", "png" },
  [SW_FILE_TIFF] = { "tiff", "tif" },  [SW_FILE_HEIF] = { "heic", "heic" },
  [SW_FILE_WEBP] = { "webp", "webp" }, [SW_FILE_RAW] = { "raw", NULL },
  [SW_FILE_CLIP] = { "clip", NULL },   [SW_FILE_MEMO] = { "memo", NULL },
};

gboolean
sw_file_kind_is_photo (SwFileKind kind)
{
  return kinds[kind].extension != NULL;
}

gboolean
sw_file_kind_is_companion (SwFileKind kind)
{
  return kind == SW_FILE_RAW || kind == SW_FILE_CLIP || kind == SW_FILE_MEMO;
}

const char *
sw_file_kind_word (SwFileKind kind)
{
  return kinds[kind].word;
}

const char *
sw_file_kind_extension (SwFileKind kind)
{
  return kinds[kind].extension;
}

gboolean
sw_name_claims_photo (const char *name)
{
  return has_extension (name, photo_extensions);
}
