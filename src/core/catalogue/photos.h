/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos and what came with them, cameras, bring-ins, look-alikes. Records of the catalogue layer.
 * The files are the business of the intake layer; here are their rows. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 id;
  char *kind;   /* photo, raw, clip, memo */
  char *format; /* jpeg, heic, png, tiff, webp, ... */
  char *file;   /* path below the folder given, for people */
  char *stored; /* path inside the catalogue */
  gint64 size;
  char *hash; /* XXH3-128 of the bytes, 32 hex digits (64 after a collision: with SHA-256 behind) */
  gint64 trip, camera, companion_of, bring_in; /* 0: none */
  char *camera_label;                          /* read only */
  gboolean has_clock;
  gint64 clock_us; /* what the camera wrote, as if in UTC */
  gboolean has_offset;
  int zone_offset_s;
  char *time_source; /* original, digitized, modified, name, file */
  gboolean has_position;
  double latitude, longitude;
  double position_error_m; /* 0: unknown */
  gboolean has_gps_time;
  gint64 gps_us;
  int orientation, width, height; /* width 0: unknown */
  int turn; /* quarters clockwise that a person turned it further; read only (photo-quality.h) */
  char *remark;
  GBytes *likeness; /* NULL: not looked at yet */
  double sharpness;
  gboolean aside;
} SwPhoto;
void sw_photo_free (SwPhoto *photo);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPhoto, sw_photo_free)

/* Inserts; fills photo->id. Part of an act of the caller or its own. REFUSED where the hash is
 * there already. */
gboolean sw_photo_add (SwCatalogue *catalogue, SwPhoto *photo, GError **error);
SwPhoto *sw_photo_get (SwCatalogue *catalogue, gint64 id, GError **error);
/* NULL without error where there is none; asides are found too. */
SwPhoto *sw_photo_by_hash (SwCatalogue *catalogue, const char *hash, GError **error);
/* By trip (0: all; -1: those without a trip), by property time then number, those without a time
 * last; asides left out unless asked for. Transfer full. */
GPtrArray *sw_photo_list (SwCatalogue *catalogue, gint64 trip, gboolean with_asides,
                          GError **error);
/* Adds a path the same bytes were met under; the first in byte order becomes photo.file. */
gboolean sw_photo_add_path (SwCatalogue *catalogue, gint64 id, const char *file, GError **error);
gboolean sw_photo_set_trip (SwCatalogue *catalogue, gint64 id, gint64 trip, GError **error);
gboolean sw_photo_set_companion (SwCatalogue *catalogue, gint64 id, gint64 companion_of,
                                 GError **error);
/* Found by looking at the pixels; no act, no event: it can be worked out again. */
gboolean sw_photo_set_likeness (SwCatalogue *catalogue, gint64 id, GBytes *likeness,
                                double sharpness, int width, int height, GError **error);

/* The instant on the property: the clock's time plus the camera's shift on that trip; a written
 * offset counts where no shift was set by a person, else the catalogue's zone. clocks: all of
 * sw_camera_clock_list, read once by whoever steps over photos. FALSE where the photo has no clock
 * time. */
gboolean sw_photo_property_time (SwCatalogue *catalogue, const GArray *clocks, const SwPhoto *photo,
                                 SwInstant *out, SwCivilKind *out_kind);

/* What every photo shows, in one read, for lists: by photo, wide views last; item 0: a person said
 * that it shows none. GArray of SwPhotoShows. Transfer full. */
typedef struct
{
  gint64 photo, item;
  gboolean also;
} SwPhotoShows;
GArray *sw_photo_shows_list (SwCatalogue *catalogue, GError **error);

/* Items the photo shows (GArray of gint64), and whether a person said that it shows none. Transfer
 * full. */
GArray *sw_photo_items (SwCatalogue *catalogue, gint64 id, gboolean *out_no_item, GError **error);

typedef struct
{
  gint64 id;
  char *make, *model, *serial, *label;
} SwCamera;
void sw_camera_free (SwCamera *camera);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwCamera, sw_camera_free)
/* "make model" without repeating, as a camera is called when no other has that name; either may be
 * NULL. Transfer full. */
char *sw_camera_plain_label (const char *make, const char *model);
/* Finds or makes; the label is "make model" without repeating, with " (2)" or the serial's end
 * where two would be equal. */
gboolean sw_camera_ensure (SwCatalogue *catalogue, const char *make, const char *model,
                           const char *serial, gint64 *out_id, GError **error);
GPtrArray *sw_camera_list (SwCatalogue *catalogue, GError **error);
/* By label or number. NOT_FOUND with the labels there are. */
SwCamera *sw_camera_find (SwCatalogue *catalogue, const char *label, GError **error);

/* Camera clock on a trip: seconds to add. source: 'found' by the machine or 'set' by a person. */
typedef struct
{
  gint64 camera, trip;
  double shift_s, spread_s;
  int evidence;
  gboolean set_by_person;
  gint64 from_photo;     /* holds from that photo on, in the order of file names; 0: the first */
  const char *from_file; /* its file; interned */
  double drift_s_day;    /* gains that more a day of the camera's clock, counted */
  gint64 drift_from_us;  /* from that moment of it on */
  double other_s, other_share;     /* found: the next likely shift, where above 5%; else 0 */
  int notes, faces, fixes, beside; /* found: what the evidence is */
} SwCameraClock;
/* FALSE without error where none is known: *out_known. */
gboolean sw_camera_clock_get (SwCatalogue *catalogue, gint64 camera, gint64 trip,
                              SwCameraClock *out, gboolean *out_known, GError **error);
/* What a person sets is an act and goes before what was found; what is found is no act, and leaves
 * alone what was set. */
gboolean sw_camera_clock_put (SwCatalogue *catalogue, const SwCameraClock *clock, GError **error);
/* Forgets both, so that it may be found again; nothing to forget is fine. */
gboolean sw_camera_clock_drop (SwCatalogue *catalogue, gint64 camera, gint64 trip, GError **error);
/* Forgets what was found alone: no act. */
gboolean sw_camera_clock_drop_found (SwCatalogue *catalogue, gint64 camera, gint64 trip,
                                     GError **error);
/* All of them, by camera then trip (GArray of SwCameraClock, transfer full), and one found in that
 * list, NULL for none. */
GArray *sw_camera_clock_list (SwCatalogue *catalogue, GError **error);
const SwCameraClock *sw_camera_clock_in (const GArray *clocks, gint64 camera, gint64 trip);
/* The one that holds for a photo: clocks may change within a trip. NULL: none. */
const SwCameraClock *sw_camera_clock_for (const GArray *clocks, gint64 camera, gint64 trip,
                                          const char *file, gint64 photo);
/* Puts the parts that were found in the place of those found before; the first of the clock is not
 * among them (sw_camera_clock_put). No act. */
gboolean sw_camera_clock_parts_found (SwCatalogue *catalogue, gint64 camera, gint64 trip,
                                      const SwCameraClock *parts, gsize n, GError **error);
/* A person sets the clock from that photo on, or (shift_s NULL) leaves it to the program from there
 * on again. NOT_FOUND where the photo is not one of that camera on the trip. */
gboolean sw_camera_clock_set_from (SwCatalogue *catalogue, gint64 camera, gint64 trip,
                                   gint64 photo, const double *shift_s, GError **error);

/* A clock in a picture, read by a person. */
typedef struct
{
  gint64 photo;
  gint64 seen_us;   /* civil time of the property as if in UTC; without a day, of the day */
  int resolution_s; /* 1, or 60 where no seconds were read */
  gboolean dated;
} SwClockFace;
/* seen NULL: forgets it. NOT_FOUND for an unknown photo. */
gboolean sw_clock_face_put (SwCatalogue *catalogue, gint64 photo, const SwClockFace *seen,
                            GError **error);
/* Those of a trip's photos, by number (GArray of SwClockFace). Transfer full. */
GArray *sw_clock_face_list (SwCatalogue *catalogue, gint64 trip, GError **error);

/* The pure function under sw_photo_property_time, for callers that step over many photos: clock may
 * be NULL. The photo must have a clock time. clock + shift, then by the written offset unless a
 * person set the shift, else by the zone (gap and fold in *out_kind, which may be NULL). */
SwInstant sw_photo_time_by (const SwPhoto *photo, const SwCameraClock *clock, const SwZone *zone,
                            SwCivilKind *out_kind);

/* When each photo, raw file, clip and memo of a trip was taken, without what belongs to another and
 * what is aside: for lists that show time and nothing else. GPtrArray of SwPhotoMoment, by number.
 * Transfer full. */
typedef struct
{
  gint64 photo;
  char *kind, *file;
  gboolean timed;
  gint64 t_us; /* property time as if in UTC */
} SwPhotoMoment;
GPtrArray *sw_photo_moments (SwCatalogue *catalogue, gint64 trip, GError **error);

/* Bring-ins: opened before the first copy, closed with the last rows. */
gboolean sw_bring_in_open (SwCatalogue *catalogue, const char *source, gint64 *out_id,
                           GError **error);
gboolean sw_bring_in_close (SwCatalogue *catalogue, gint64 id, GError **error);
/* TRUE in *out_open while any is open. */
gboolean sw_bring_in_any_open (SwCatalogue *catalogue, gboolean *out_open, GError **error);

/* Two photos that look the same and were taken at the same moment, in either order; told in the
 * history of the later one. Kept once. REFUSED: a photo as its own double; NOT_FOUND. */
gboolean sw_look_alike_add (SwCatalogue *catalogue, gint64 a, gint64 b, GError **error);
/* The files (char *) that are kept so beside the photo, but for those put aside, in the order in
 * which they came. Transfer full. */
GPtrArray *sw_look_alike_files (SwCatalogue *catalogue, gint64 photo, GError **error);

G_END_DECLS
