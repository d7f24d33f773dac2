/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures in memory to pixels. Every size is checked against the cap before a pixel is decoded. */
#include "core/intake/decode-formats.h"

#include <libheif/heif.h>
#include <png.h>
#include <string.h>
#include <tiffio.h>
#include <turbojpeg.h>
#include <webp/decode.h>

static gboolean
size_is_sane (guint64 width, guint64 height)
{
  return width >= 1 && height >= 1 && width <= SW_DECODE_MAX_SIDE && height <= SW_DECODE_MAX_SIDE
         && width * height <= SW_DECODE_MAX_PIXELS;
}

/* What every decoder starts from and fills. */
typedef struct
{
  const guint8 *bytes;
  gsize length;
  guint max_side;
  guint most_side; /* larger ones are refused; 0: by the cap alone */
  SwPixels *out;
  guint full_width, full_height;
} Job;

/* Remembers the whole size; FALSE where it is over the cap. */
static gboolean
admit (Job *job, guint64 width, guint64 height)
{
  job->full_width = (guint)MIN (width, G_MAXUINT32);
  job->full_height = (guint)MIN (height, G_MAXUINT32);
  return size_is_sane (width, height)
         && (job->most_side == 0 || MAX (width, height) <= job->most_side);
}

static void
allocate (Job *job, guint width, guint height)
{
  job->out->width = width;
  job->out->height = height;
  job->out->rgb = g_malloc0 ((gsize)width * height * 3);
}

/* The smallest scale of the inverse DCT that still gives max_side pixels. */
static void
jpeg_scale (guint width, guint height, guint max_side, guint *out_width, guint *out_height)
{
  int n = 0;
  tjscalingfactor *factors = tjGetScalingFactors (&n);

  *out_width = width;
  *out_height = height;
  for (int i = 0; i < n; i++)
    {
      guint w = (guint)TJSCALED ((int)width, factors[i]);
      guint h = (guint)TJSCALED ((int)height, factors[i]);

      if (factors[i].num <= factors[i].denom && MAX (w, h) >= max_side && w < *out_width)
        {
          *out_width = w;
          *out_height = h;
        }
    }
}

/* Four inks to three lights; JPEG files hold the inks inverted, as the program that made the custom
 * wrote them. */
static void
inks_to_rgb (const guint8 *inks, SwPixels *out)
{
  for (gsize i = 0; i < (gsize)out->width * out->height; i++)
    for (gsize c = 0; c < 3; c++)
      out->rgb[3 * i + c] = (guint8)(inks[4 * i + c] * inks[4 * i + 3] / 255);
}

static gboolean
read_jpeg_pixels (tjhandle tj, Job *job, gboolean four_inks)
{
  guint w, h;
  g_autofree guint8 *inks = NULL;
  gboolean strict = job->most_side > 0, good;
  int flags = TJFLAG_FASTUPSAMPLE | (strict ? TJFLAG_STOPONWARNING | TJFLAG_LIMITSCANS : 0);

  jpeg_scale (job->full_width, job->full_height, job->max_side, &w, &h);
  allocate (job, w, h);
  if (four_inks)
    inks = g_malloc0 ((gsize)w * h * 4);
  /* a JPEG that is cut short decodes as far as it goes: that is a warning, not an error */
  good = tjDecompress2 (tj, job->bytes, job->length, four_inks ? inks : job->out->rgb, (int)w, 0,
                        (int)h, four_inks ? TJPF_CMYK : TJPF_RGB, flags)
             == 0
         || (!strict && tjGetErrorCode (tj) == TJERR_WARNING);
  if (good && four_inks)
    inks_to_rgb (inks, job->out);
  return good;
}

static SwDecodeStatus
decode_jpeg (Job *job)
{
  tjhandle tj = tjInitDecompress ();
  /* libjpeg-turbo 2.1.5 reports success for a file that ends before its frame header, and leaves
   * the figures as they were. */
  int width = 0, height = 0, sampling = 0, space = 0;
  SwDecodeStatus status = SW_DECODE_BAD;

  if (tj == NULL)
    return SW_DECODE_BAD;
  if (tjDecompressHeader3 (tj, job->bytes, job->length, &width, &height, &sampling, &space) == 0
      && width > 0 && height > 0)
    {
      status = SW_DECODE_TOO_LARGE;
      if (admit (job, (guint64)width, (guint64)height))
        status = read_jpeg_pixels (tj, job, space == TJCS_CMYK || space == TJCS_YCCK)
                     ? SW_DECODE_OK
                     : SW_DECODE_BAD;
    }
  tjDestroy (tj);
  return status;
}

static SwDecodeStatus
decode_png (Job *job)
{
  png_image image = { .version = PNG_IMAGE_VERSION };
  png_color white = { 255, 255, 255 };
  SwDecodeStatus status = SW_DECODE_OK;

  if (!png_image_begin_read_from_memory (&image, job->bytes, job->length))
    return SW_DECODE_BAD;
  if (!admit (job, image.width, image.height))
    status = SW_DECODE_TOO_LARGE;
  else
    {
      image.format = PNG_FORMAT_RGB;
      allocate (job, image.width, image.height);
      if (!png_image_finish_read (&image, &white, job->out->rgb, 0, NULL))
        status = SW_DECODE_BAD;
    }
  png_image_free (&image);
  return status;
}

/* libtiff over memory. */
typedef struct
{
  const guint8 *bytes;
  gsize length, at;
} Memory;

static tmsize_t
memory_read (thandle_t handle, void *to, tmsize_t n)
{
  Memory *m = handle;
  gsize left = m->at < m->length ? m->length - m->at : 0;
  gsize take = n > 0 ? MIN ((gsize)n, left) : 0;

  memcpy (to, m->bytes + MIN (m->at, m->length), take);
  m->at += take;
  return (tmsize_t)take;
}

static tmsize_t
memory_write (thandle_t handle, void *from, tmsize_t n)
{
  return -1;
}

static toff_t
memory_seek (thandle_t handle, toff_t offset, int whence)
{
  Memory *m = handle;

  m->at = (gsize)(whence == SEEK_CUR   ? m->at + offset
                  : whence == SEEK_END ? m->length + offset
                                       : offset);
  return m->at;
}

static int
memory_close (thandle_t handle)
{
  return 0;
}

static toff_t
memory_size (thandle_t handle)
{
  return ((Memory *)handle)->length;
}

static gboolean
read_tiff_pixels (TIFF *tiff, Job *job)
{
  gsize n = (gsize)job->full_width * job->full_height;
  g_autofree uint32_t *raster = g_try_new (uint32_t, n);

  /* the turn is ours to make, by the Exif value */
  TIFFSetField (tiff, TIFFTAG_ORIENTATION, ORIENTATION_TOPLEFT);
  if (raster == NULL
      || !TIFFReadRGBAImageOriented (tiff, job->full_width, job->full_height, raster,
                                     ORIENTATION_TOPLEFT, 0))
    return FALSE;
  allocate (job, job->full_width, job->full_height);
  for (gsize i = 0; i < n; i++)
    {
      /* what can be seen through lies on white; libtiff has its lights weakened by that already */
      guint white = 255 - TIFFGetA (raster[i]);

      job->out->rgb[3 * i] = (guint8)MIN (255, TIFFGetR (raster[i]) + white);
      job->out->rgb[3 * i + 1] = (guint8)MIN (255, TIFFGetG (raster[i]) + white);
      job->out->rgb[3 * i + 2] = (guint8)MIN (255, TIFFGetB (raster[i]) + white);
    }
  return TRUE;
}

static SwDecodeStatus
decode_tiff (Job *job)
{
  Memory memory = { job->bytes, job->length, 0 };
  uint32_t width = 0, height = 0;
  SwDecodeStatus status = SW_DECODE_TOO_LARGE;
  TIFF *tiff;

  TIFFSetWarningHandler (NULL);
  TIFFSetErrorHandler (NULL);
  tiff = TIFFClientOpen ("photo", "rm", &memory, memory_read, memory_write, memory_seek,
                         memory_close, memory_size, NULL, NULL);
  if (tiff == NULL)
    return SW_DECODE_BAD;
  TIFFGetField (tiff, TIFFTAG_IMAGEWIDTH, &width);
  TIFFGetField (tiff, TIFFTAG_IMAGELENGTH, &height);
  if (admit (job, width, height))
    status = read_tiff_pixels (tiff, job) ? SW_DECODE_OK : SW_DECODE_BAD;
  TIFFClose (tiff);
  return status;
}

/* Lights that are weakened by what can be seen through them, and how much: laid on white. */
static void
lay_on_white (const guint8 *rgba, SwPixels *out)
{
  for (gsize i = 0; i < (gsize)out->width * out->height; i++)
    for (gsize c = 0; c < 3; c++)
      out->rgb[3 * i + c] = (guint8)MIN (255, rgba[4 * i + c] + 255 - rgba[4 * i + 3]);
}

static SwDecodeStatus
decode_webp (Job *job)
{
  WebPDecoderConfig config;
  g_autofree guint8 *rgba = NULL;
  gsize samples = 3;
  guint w, h;

  if (!WebPInitDecoderConfig (&config)
      || WebPGetFeatures (job->bytes, job->length, &config.input) != VP8_STATUS_OK)
    return SW_DECODE_BAD;
  if (!admit (job, (guint64)config.input.width, (guint64)config.input.height))
    return SW_DECODE_TOO_LARGE;
  sw_pixels_fit (job->full_width, job->full_height, job->max_side, &w, &h);
  allocate (job, w, h);
  config.options.use_scaling = w != job->full_width || h != job->full_height;
  config.options.scaled_width = (int)w;
  config.options.scaled_height = (int)h;
  if (config.input.has_alpha)
    {
      samples = 4;
      rgba = g_malloc0 ((gsize)w * h * samples);
    }
  config.output.colorspace = rgba != NULL ? MODE_rgbA : MODE_RGB;
  config.output.is_external_memory = 1;
  config.output.u.RGBA.rgba = rgba != NULL ? rgba : job->out->rgb;
  config.output.u.RGBA.stride = (int)(samples * w);
  config.output.u.RGBA.size = samples * w * h;
  if (WebPDecode (job->bytes, job->length, &config) != VP8_STATUS_OK)
    return SW_DECODE_BAD;
  if (rgba != NULL)
    lay_on_white (rgba, job->out);
  return SW_DECODE_OK;
}

static gboolean
read_heif_pixels (struct heif_image_handle *handle, Job *job)
{
  struct heif_image *image = NULL;
  struct heif_error e
      = heif_decode_image (handle, &image, heif_colorspace_RGB, heif_chroma_interleaved_RGB, NULL);
  const guint8 *plane;
  int stride = 0;

  if (e.code != heif_error_Ok || image == NULL)
    return FALSE;
  plane = heif_image_get_plane_readonly (image, heif_channel_interleaved, &stride);
  if (plane != NULL
      && admit (job, (guint64)heif_image_get_width (image, heif_channel_interleaved),
                (guint64)heif_image_get_height (image, heif_channel_interleaved))
      && stride >= (int)(3 * job->full_width))
    {
      allocate (job, job->full_width, job->full_height);
      for (guint y = 0; y < job->full_height; y++)
        memcpy (job->out->rgb + (gsize)y * job->full_width * 3, plane + (gsize)y * (gsize)stride,
                (gsize)job->full_width * 3);
    }
  heif_image_release (image);
  return job->out->rgb != NULL;
}

static SwDecodeStatus
decode_heif (Job *job)
{
  struct heif_context *context = heif_context_alloc ();
  struct heif_image_handle *handle = NULL;
  SwDecodeStatus status = SW_DECODE_BAD;

  heif_context_set_maximum_image_size_limit (context, (int)SW_DECODE_MAX_SIDE);
  if (heif_context_read_from_memory_without_copy (context, job->bytes, job->length, NULL).code
          == heif_error_Ok
      && heif_context_get_primary_image_handle (context, &handle).code == heif_error_Ok)
    {
      status = SW_DECODE_TOO_LARGE;
      if (size_is_sane ((guint64)heif_image_handle_get_width (handle),
                        (guint64)heif_image_handle_get_height (handle)))
        status = read_heif_pixels (handle, job) ? SW_DECODE_OK : SW_DECODE_BAD;
      heif_image_handle_release (handle);
    }
  heif_context_free (context);
  return status;
}

SwDecodeStatus
sw_decode_bytes (const guint8 *bytes, gsize length, SwFileKind kind, guint max_side, SwPixels *out,
                 guint *out_full_width, guint *out_full_height)
{
  static SwDecodeStatus (*const decoders[]) (Job *) = {
    [SW_FILE_JPEG] = decode_jpeg, [SW_FILE_PNG] = decode_png,   [SW_FILE_TIFF] = decode_tiff,
    [SW_FILE_HEIF] = decode_heif, [SW_FILE_WEBP] = decode_webp,
  };
  Job job = { bytes, length, max_side, 0, out, 0, 0 };
  SwDecodeStatus status;

  *out_full_width = *out_full_height = 0;
  if (kind >= G_N_ELEMENTS (decoders) || decoders[kind] == NULL)
    return SW_DECODE_BAD;
  /* an empty file may have no address, which the decoders copy from all the same */
  if (length == 0)
    return SW_DECODE_BAD;
  status = decoders[kind](&job);
  if (status == SW_DECODE_TOO_LARGE && (job.full_width == 0 || job.full_height == 0))
    status = SW_DECODE_BAD; /* no size at all: nothing was understood */
  *out_full_width = job.full_width;
  *out_full_height = job.full_height;
  return status;
}

SwDecodeStatus
sw_decode_small_jpeg (const guint8 *bytes, gsize length, guint max_side, guint most_side,
                      SwPixels *out)
{
  Job job = { bytes, length, max_side, most_side, out, 0, 0 };

  return decode_jpeg (&job) == SW_DECODE_OK ? SW_DECODE_OK : SW_DECODE_BAD;
}
