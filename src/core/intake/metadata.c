/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a photo says of itself. The container reader finds and cleans the block, libexif takes it
 * apart, and here the tags become a time, a camera and a position. Bad values are left out, with a
 * remark where a person would wonder. */
#include "core/intake/metadata.h"

#include <errno.h>
#include <fcntl.h>
#include <libexif/exif-data.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/intake/decode-helper.h"
#include "core/intake/movie-time.h"

/* Most headers end within; what lies further is read where it lies. */
#define HEAD_BYTES (16 * 1024)
/* A clock in the zone furthest east of UTC may show 14 h more than UTC. */
#define FUTURE_LIMIT_S (38 * 3600)

static const char *const source_words[] = {
  [SW_TIME_ORIGINAL] = "original", [SW_TIME_DIGITIZED] = "digitized",
  [SW_TIME_MODIFIED] = "modified", [SW_TIME_NAME] = "name",
  [SW_TIME_FILE] = "file",
};

/* Which offset and subsecond belong to which time: Exif 2.32, 4.6.5 (0x9010 to 0x0132, 0x9011 to
 * 0x9003, 0x9012 to 0x9004). In the order in which they are tried. */
static const struct
{
  SwTimeSource source;
  ExifIfd ifd;
  guint16 time, subsecond, offset;
} time_tags[] = {
  { SW_TIME_ORIGINAL, EXIF_IFD_EXIF, 0x9003, 0x9291, 0x9011 },
  { SW_TIME_DIGITIZED, EXIF_IFD_EXIF, 0x9004, 0x9292, 0x9012 },
  { SW_TIME_MODIFIED, EXIF_IFD_0, 0x0132, 0x9290, 0x9010 },
};

const char *
sw_time_source_word (SwTimeSource source)
{
  return source_words[source];
}

static void
remark (SwPhotoMeta *meta, const char *text)
{
  for (guint i = 0; i < meta->remarks->len; i++)
    if (strcmp (meta->remarks->pdata[i], text) == 0)
      return;
  g_ptr_array_add (meta->remarks, g_strdup (text));
}

static ExifEntry *
entry_of (ExifData *data, ExifIfd ifd, guint tag)
{
  return exif_content_get_entry (data->ifd[ifd], (ExifTag)tag);
}

/* The text of a tag whatever its type says, up to the first NUL; NULL where absent. Bytes, not yet
 * UTF-8. */
static char *
raw_text (ExifData *data, ExifIfd ifd, guint tag)
{
  ExifEntry *e = entry_of (data, ifd, tag);

  if (e == NULL || e->data == NULL || exif_format_get_size (e->format) > 1)
    return NULL;
  return g_strndup ((const char *)e->data, e->size);
}

/* Text for people: UTF-8, trimmed, without control characters; NULL where nothing is left. */
static char *
clean_text (ExifData *data, ExifIfd ifd, guint tag)
{
  g_autofree char *raw = raw_text (data, ifd, tag);
  g_autofree char *valid = raw != NULL ? g_utf8_make_valid (raw, -1) : NULL;

  if (valid == NULL)
    return NULL;
  for (char *p = valid; *p != '\0'; p++)
    if (g_ascii_iscntrl (*p))
      *p = ' ';
  g_strstrip (valid);
  return *valid != '\0' ? g_steal_pointer (&valid) : NULL;
}

/* Rational number i of a tag; FALSE where absent, of another type or over 0. */
static gboolean
rational (ExifData *data, guint tag, guint i, double *out)
{
  ExifEntry *e = entry_of (data, EXIF_IFD_GPS, tag);
  ExifByteOrder order = exif_data_get_byte_order (data);
  ExifRational r;

  if (e == NULL || e->data == NULL || e->format != EXIF_FORMAT_RATIONAL || e->size < 8 * (i + 1))
    return FALSE;
  r = exif_get_rational (e->data + 8 * i, order);
  if (r.denominator == 0)
    return FALSE;
  *out = (double)r.numerator / r.denominator;
  return TRUE;
}

/* Digits after the decimal point: "5", "50" and "500" are all half a second (Exif 2.32, 4.6.5). */
static int
micro_of (const char *digits)
{
  int micro = 0, unit = 100000;

  for (; g_ascii_isdigit (*digits) && unit > 0; digits++, unit /= 10)
    micro += (*digits - '0') * unit;
  return micro;
}

static gboolean
is_far_future (SwCivil clock, SwInstant now)
{
  return sw_civil_to_us (clock) > now.us + FUTURE_LIMIT_S * SW_US_PER_SECOND;
}

static void
take_time (ExifData *data, gsize row, SwCivil clock, SwPhotoMeta *meta)
{
  g_autofree char *sub = raw_text (data, EXIF_IFD_EXIF, time_tags[row].subsecond);
  g_autofree char *offset = raw_text (data, EXIF_IFD_EXIF, time_tags[row].offset);

  if (sub != NULL)
    clock.micro = micro_of (sub);
  meta->clock = clock;
  meta->has_clock = TRUE;
  meta->time_source = time_tags[row].source;
  meta->has_offset = offset != NULL && sw_exif_offset_parse (offset, &meta->offset_s);
}

static void
read_time (ExifData *data, SwInstant now, SwPhotoMeta *meta)
{
  for (gsize i = 0; i < G_N_ELEMENTS (time_tags) && !meta->has_clock; i++)
    {
      g_autofree char *text = raw_text (data, time_tags[i].ifd, time_tags[i].time);
      gboolean blank;
      SwCivil clock;

      if (text == NULL)
        continue;
      if (!sw_exif_time_parse (text, &clock, &blank))
        {
          if (!blank)
            remark (meta, _ ("A date in the photo is impossible and was left out."));
          continue;
        }
      if (is_far_future (clock, now))
        {
          remark (meta, _ ("A date in the photo lies in the future and was left out."));
          continue;
        }
      take_time (data, i, clock, meta);
    }
}

static void
read_orientation (ExifData *data, SwPhotoMeta *meta)
{
  ExifEntry *e = entry_of (data, EXIF_IFD_0, EXIF_TAG_ORIENTATION);
  ExifByteOrder order = exif_data_get_byte_order (data);
  guint v = 1;

  if (e == NULL || e->data == NULL)
    return;
  if (e->format == EXIF_FORMAT_SHORT && e->size >= 2)
    v = exif_get_short (e->data, order);
  else if (e->format == EXIF_FORMAT_LONG && e->size >= 4)
    v = exif_get_long (e->data, order);
  else if (e->format == EXIF_FORMAT_BYTE && e->size >= 1)
    v = e->data[0];
  if (v >= 1 && v <= 8)
    meta->orientation = (int)v;
}

/* Some programs write an angle as text. Its first three numbers are taken for degrees, minutes and
 * seconds, as the usual readers do; a remark says that it is not to be trusted. */
static gboolean
text_angle (const char *text, double dms[3])
{
  int n = 0;

  while (*text != '\0' && n < 3)
    {
      char *end;

      if (!g_ascii_isdigit (*text) && !(*text == '.' && g_ascii_isdigit (text[1])))
        {
          text++;
          continue;
        }
      dms[n++] = g_ascii_strtod (text, &end);
      text = end;
    }
  return n > 0;
}

static gboolean
read_dms (ExifData *data, guint tag, double dms[3], SwPhotoMeta *meta)
{
  ExifEntry *e = entry_of (data, EXIF_IFD_GPS, tag);

  if (e != NULL && e->format == EXIF_FORMAT_ASCII)
    {
      g_autofree char *text = raw_text (data, EXIF_IFD_GPS, tag);

      remark (meta, _ ("The position is written in a wrong form; it may be far off."));
      return text != NULL && text_angle (text, dms);
    }
  if (!rational (data, tag, 0, &dms[0]))
    return FALSE;
  return e->components < 3
         || (rational (data, tag, 1, &dms[1]) && rational (data, tag, 2, &dms[2]));
}

/* Degrees, minutes and seconds to degrees; the sign by the reference letter (Exif 2.32, 4.6.6). */
static gboolean
read_angle (ExifData *data, guint tag, char positive, char negative, double limit, double *out,
            SwPhotoMeta *meta)
{
  g_autofree char *ref = raw_text (data, EXIF_IFD_GPS, tag - 1);
  double dms[3] = { 0 }, v;

  if (ref == NULL || !read_dms (data, tag, dms, meta))
    return FALSE;
  v = dms[0] + dms[1] / 60 + dms[2] / 3600;
  if (!(v <= limit) || (g_ascii_toupper (*ref) != positive && g_ascii_toupper (*ref) != negative))
    return FALSE;
  *out = g_ascii_toupper (*ref) == negative ? -v : v;
  return TRUE;
}

static void
read_position (ExifData *data, SwPhotoMeta *meta)
{
  double latitude, longitude, metres;

  if (entry_of (data, EXIF_IFD_GPS, 2) == NULL && entry_of (data, EXIF_IFD_GPS, 4) == NULL)
    return;
  if (!read_angle (data, 2, 'N', 'S', 90, &latitude, meta)
      || !read_angle (data, 4, 'E', 'W', 180, &longitude, meta))
    {
      remark (meta, _ ("The position in the photo cannot be read and was left out."));
      return;
    }
  if (latitude == 0 && longitude == 0)
    {
      remark (meta,
              _ ("The position is 0, 0, as cameras write it without a fix, and was left out."));
      return;
    }
  meta->has_position = TRUE;
  meta->latitude = latitude;
  meta->longitude = longitude;
  if (rational (data, 0x1F, 0, &metres) && metres >= 0 && isfinite (metres))
    {
      meta->has_position_error = TRUE;
      meta->position_error_m = metres;
    }
}

/* GPSDateStamp and GPSTimeStamp are UTC. */
static void
read_gps_time (ExifData *data, SwPhotoMeta *meta)
{
  g_autofree char *day = raw_text (data, EXIF_IFD_GPS, 0x1D);
  g_autofree char *text = NULL;
  gboolean blank;
  SwCivil civil;
  double h, m, s;

  if (day == NULL || strlen (day) < 10 || !rational (data, 7, 0, &h) || !rational (data, 7, 1, &m)
      || !rational (data, 7, 2, &s) || !(h < 24) || !(m < 60) || !(s < 61))
    return;
  text = g_strdup_printf ("%.10s 00:00:00", day);
  if (!sw_exif_time_parse (text, &civil, &blank))
    return;
  meta->has_gps_time = TRUE;
  meta->gps_time.us
      = sw_civil_to_us (civil) + (gint64)llround ((h * 3600 + m * 60 + s) * SW_US_PER_SECOND);
}

static void
read_exif (GBytes *block, SwInstant now, SwPhotoMeta *meta)
{
  gsize length;
  const guint8 *bytes = g_bytes_get_data (block, &length);
  g_autofree guint8 *framed = g_malloc (length + 6);
  ExifData *data = exif_data_new ();

  /* the defaults invent tags: 72 dpi, a version, a colour space */
  exif_data_unset_option (data, EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
  exif_data_unset_option (data, EXIF_DATA_OPTION_IGNORE_UNKNOWN_TAGS);
  memcpy (framed, "Exif\0\0", 6);
  memcpy (framed + 6, bytes, length);
  exif_data_load_data (data, framed, (unsigned int)(length + 6));

  read_time (data, now, meta);
  read_orientation (data, meta);
  meta->make = clean_text (data, EXIF_IFD_0, EXIF_TAG_MAKE);
  meta->model = clean_text (data, EXIF_IFD_0, EXIF_TAG_MODEL);
  meta->serial = clean_text (data, EXIF_IFD_EXIF, 0xA431);
  read_position (data, meta);
  read_gps_time (data, meta);
  exif_data_unref (data);
}

static gboolean
is_too_large (const SwPhotoMeta *meta)
{
  return meta->width > SW_DECODE_MAX_SIDE || meta->height > SW_DECODE_MAX_SIDE
         || (guint64)meta->width * meta->height > SW_DECODE_MAX_PIXELS;
}

void
sw_photo_meta_read (const SwPeek *peek, SwFileKind kind, SwInstant now, SwPhotoMeta *out)
{
  g_auto (SwContainer) container = { 0 };

  memset (out, 0, sizeof *out);
  out->kind = kind;
  out->orientation = 1;
  out->time_source = SW_TIME_FILE;
  out->remarks = g_ptr_array_new_with_free_func (g_free);
  sw_container_read (peek, kind, &container);
  out->width = container.width;
  out->height = container.height;
  out->pixels_at = container.pixels_at;
  if (kind == SW_FILE_CLIP || kind == SW_FILE_MEMO)
    out->has_movie_time = sw_movie_time_read (peek, &out->movie_time);
  if (container.exif != NULL)
    read_exif (container.exif, now, out);
  if (container.exif_broken)
    remark (out,
            _ ("What the camera wrote into the photo is damaged; what could be read was kept."));
  if (container.cut_short)
    remark (out, _ ("The file is cut short: a part of the picture is missing."));
  else if (container.no_picture)
    remark (out, _ ("The file has a header but no picture in it."));
  if (is_too_large (out))
    remark (out, _ ("The picture is too large to be shown; the file is kept as it is."));
}

/* A day in the name alone says less than the file's own time on that day. */
static gboolean
take_name_time (SwPhotoMeta *meta, const char *name, SwCivil from_file, gboolean day_alone,
                SwInstant now)
{
  SwCivil from_name;
  gboolean day_only;

  if (!sw_name_time_parse (name, &from_name, &day_only) || is_far_future (from_name, now)
      || day_only != day_alone)
    return FALSE;
  if (day_only && from_name.year == from_file.year && from_name.month == from_file.month
      && from_name.day == from_file.day)
    return FALSE;
  meta->clock = from_name;
  meta->time_source = SW_TIME_NAME;
  if (day_only)
    remark (meta, _ ("Only the day is known, from the file's name."));
  return TRUE;
}

static gboolean
take_movie_time (SwPhotoMeta *meta, const SwZone *zone, SwInstant now)
{
  SwCivil clock;

  if (!meta->has_movie_time)
    return FALSE;
  clock = sw_civil_from_instant (meta->movie_time, zone, &meta->offset_s);
  if (is_far_future (clock, now))
    return FALSE;
  meta->clock = clock;
  meta->has_offset = TRUE;
  meta->time_source = SW_TIME_ORIGINAL;
  return TRUE;
}

void
sw_photo_meta_settle_time (SwPhotoMeta *meta, const char *name, SwInstant file_time,
                           const SwZone *zone, SwInstant now)
{
  SwCivil from_file;

  if (meta->has_clock)
    return;
  meta->has_clock = TRUE;
  from_file = sw_civil_from_instant (file_time, zone, NULL);
  if (take_name_time (meta, name, from_file, FALSE, now) || take_movie_time (meta, zone, now)
      || take_name_time (meta, name, from_file, TRUE, now))
    return;
  meta->clock = from_file;
  meta->time_source = SW_TIME_FILE;
  if (sw_file_kind_is_photo (meta->kind))
    remark (meta, _ ("The time is weak: it is the file's own, for there is none in it."));
}

SwInstant
sw_photo_meta_instant (const SwPhotoMeta *meta, const SwZone *zone, SwCivilKind *out_kind)
{
  SwCivilKind kind = SW_CIVIL_PLAIN;
  SwInstant instant = meta->has_offset ? sw_civil_at_offset (meta->clock, meta->offset_s)
                                       : sw_civil_to_instant (meta->clock, zone, &kind);

  /* the file's own time is an instant: it has no such doubt */
  *out_kind = meta->time_source == SW_TIME_FILE ? SW_CIVIL_PLAIN : kind;
  return instant;
}

void
sw_photo_meta_clear (SwPhotoMeta *meta)
{
  g_clear_pointer (&meta->make, g_free);
  g_clear_pointer (&meta->model, g_free);
  g_clear_pointer (&meta->serial, g_free);
  g_clear_pointer (&meta->remarks, g_ptr_array_unref);
}

gboolean
sw_photo_meta_read_file (const char *path, const SwZone *zone, SwInstant now, SwPhotoMeta *out,
                         GError **error)
{
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
  g_autofree guint8 *head = NULL;
  struct stat st;
  ssize_t n;
  SwPeek peek;

  if (fd < 0 || fstat (fd, &st) != 0)
    {
      int errsv = errno;
      g_autofree char *what = g_strdup_printf (_ ("The photo %s could not be read"), path);

      if (fd >= 0)
        close (fd);
      return sw_error_from_errno (error, errsv, what);
    }
  /* a few pieces are wanted: what the system would read ahead, eight times as much, costs three
   * times the time */
  posix_fadvise (fd, 0, 0, POSIX_FADV_RANDOM);
  head = g_malloc (HEAD_BYTES);
  n = pread (fd, head, HEAD_BYTES, 0);
  n = MAX (n, 0);
  peek = (SwPeek){ head, (gsize)n, fd, (guint64)st.st_size };
  sw_photo_meta_read (&peek, sw_sniff (head, MIN ((gsize)n, SW_SNIFF_BYTES), path), now, out);
  sw_photo_meta_settle_time (
      out, path, (SwInstant){ st.st_mtim.tv_sec * SW_US_PER_SECOND + st.st_mtim.tv_nsec / 1000 },
      zone, now);
  close (fd);
  return TRUE;
}
