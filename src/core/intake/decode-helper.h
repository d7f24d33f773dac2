/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The helper process that decodes pictures, and what passes between it and its client. Intake
 * layer. */
#pragma once

#include <glib.h>

#include "core/catalogue/photo-quality.h"

G_BEGIN_DECLS

/* The whole life of `shedwalk-decode`: serves requests on the socket fd_in (fd_out may be the
 * same) until it is closed. Returns the exit status. To be called first thing in main, before any
 * library is set up. */
int sw_decode_helper_main (int fd_in, int fd_out);

/* Largest picture that is decoded: 250 megapixels, 65500 a side. */
#define SW_DECODE_MAX_PIXELS 250000000u
#define SW_DECODE_MAX_SIDE 65500u

/* Codes that one picture gives back, and bytes of each text, the end included. */
#define SW_DECODE_CODES 8
#define SW_DECODE_CODE_MAX 64

#define SW_DECODE_MAGIC 0x53574434u /* "SWD4" */

/* So many requests may be sent before the first reply is read: replies come one by one, in the
 * order of the requests, so that a run of small pictures costs one change of processes and not one
 * each. A helper that dies owes the reply to the first request without one; the others can be asked
 * again of another helper. More would fill the socket both ways and leave both sides waiting. */
#define SW_DECODE_AHEAD 16

/* One message, with the file's descriptor beside it (SCM_RIGHTS). */
typedef struct
{
  guint32 magic;
  guint32 kind; /* SwFileKind */
  guint32 max_side;
  guint32 orientation, turn; /* Exif value; quarter turns clockwise on top */
  guint32 want_codes;        /* 1: look for QR codes too, on a larger picture where there is one */
  guint32 want_small; /* 1: the small picture in the file's header, and no measures; BAD where
                         there is none of use */
  guint32 want_part;  /* 1: only the part below of the scaled upright picture, and no measures */
  guint32 x, y, width, height;
} SwDecodeRequest;

typedef struct
{
  guint32 share;                 /* thousandths of the long side */
  char text[SW_DECODE_CODE_MAX]; /* plain ASCII, a longer one cut */
} SwDecodeCode;

typedef enum
{
  SW_DECODE_OK,
  SW_DECODE_BAD,       /* cannot be decoded */
  SW_DECODE_TOO_LARGE, /* by its own header */
} SwDecodeStatus;

/* Followed by width * height * 3 bytes where status is OK. */
typedef struct
{
  guint32 magic;
  guint32 status;
  guint32 width, height, full_width, full_height;
  guint32 scaled_width, scaled_height; /* of what the part was cut from */
  guint64 dhash;
  SwPhotoQuality quality; /* without 'photo' and 'marks' */
  guint8 grid[64];
  guint32 n_codes;
  SwDecodeCode codes[SW_DECODE_CODES];
} SwDecodeReply;

G_END_DECLS
