/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a photo says of itself: time, orientation, camera, position. Intake layer; no database.
 * Reading has two steps: what stands in the file (any thread), then the choice of a time where the
 * file has none. */
#pragma once

#include "core/base/civil.h"
#include "core/intake/container.h"

G_BEGIN_DECLS

typedef enum
{
  SW_TIME_ORIGINAL,  /* DateTimeOriginal */
  SW_TIME_DIGITIZED, /* DateTimeDigitized */
  SW_TIME_MODIFIED,  /* DateTime */
  SW_TIME_NAME,      /* a time in the file name */
  SW_TIME_FILE,      /* the file's own time: weak */
} SwTimeSource;

/* "original", "digitized", "modified", "name", "file". Transfer none. */
const char *sw_time_source_word (SwTimeSource source);

typedef struct
{
  SwFileKind kind;
  gboolean has_clock;
  SwCivil clock; /* as written, fraction of a second included */
  SwTimeSource time_source;
  gboolean has_offset;
  int offset_s;    /* seconds east of UTC, from the offset tag that belongs to the time used */
  int orientation; /* Exif value 1 to 8; 1 where absent or reserved */
  char *make, *model, *serial; /* trimmed UTF-8; NULL where absent or blank */
  gboolean has_position;
  double latitude, longitude; /* degrees, WGS 84, north and east positive */
  gboolean has_position_error;
  double position_error_m;
  gboolean has_gps_time;
  SwInstant gps_time;
  gboolean has_movie_time; /* clips and memos: what their own header says */
  SwInstant movie_time;
  guint width, height; /* as stored; 0 where unknown */
  guint64 pixels_at;   /* JPEG: where the coded picture begins in the file; 0 unknown */
  GPtrArray *remarks;  /* of char *, plain sentences */
} SwPhotoMeta;

/* Reads the file's own tags; never fails, what is bad becomes a remark. 'now' is the limit for
 * dates: later than a day after now (in the zone furthest east) counts as missing, like blank,
 * all-zero and impossible ones. Clear with sw_photo_meta_clear. Any thread. */
void sw_photo_meta_read (const SwPeek *peek, SwFileKind kind, SwInstant now, SwPhotoMeta *out);

/* Where the tags gave no time: the one in the file name, else that of a clip's or memo's header,
 * else the file's own, as seen on the property. A name goes before the header: it is in local time,
 * while some recorders write theirs into the header as if it were UTC (common practice). 'name' may
 * be a path; file_time is st_mtim. */
void sw_photo_meta_settle_time (SwPhotoMeta *meta, const char *name, SwInstant file_time,
                                const SwZone *zone, SwInstant now);

/* When that was, once the time is settled: by the written offset, else by the zone. *out_kind says
 * whether the zone left it in doubt. */
SwInstant sw_photo_meta_instant (const SwPhotoMeta *meta, const SwZone *zone,
                                 SwCivilKind *out_kind);

void sw_photo_meta_clear (SwPhotoMeta *meta);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwPhotoMeta, sw_photo_meta_clear)

/* As many threads as reading many files by themselves should take, whatever the processors: on a
 * card or a disk it is waiting that rules. */
#define SW_META_THREADS 8

/* Reads a file on disk, both steps. Errors: those of opening it. */
gboolean sw_photo_meta_read_file (const char *path, const SwZone *zone, SwInstant now,
                                  SwPhotoMeta *out, GError **error);

/* "YYYY:MM:DD HH:MM:SS" of Exif 2.32, 4.6.5; '-', '/', '.' and 'T' as separators and blanks for
 * leading zeros are met in files and taken. FALSE for blank, zero and impossible ones; *out_blank
 * tells a blank from a bad one. */
gboolean sw_exif_time_parse (const char *text, SwCivil *out, gboolean *out_blank);
/* "+HH:MM" or "-HH:MM"; FALSE for blanks and anything else. */
gboolean sw_exif_offset_parse (const char *text, int *out_seconds);
/* Times in names as phones write them. *out_day_only: the name has a day and no time (the time is
 * noon). */
gboolean sw_name_time_parse (const char *name, SwCivil *out, gboolean *out_day_only);

G_END_DECLS
