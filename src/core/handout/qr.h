/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A QR code as a drawing. Handout layer; knows nothing of what the text means. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

G_BEGIN_DECLS

/* Light modules that must surround the symbol on every side (ISO/IEC 18004:2015, 6.3.8). */
#define SW_QR_QUIET 4

/* Draws 'text' as a QR code with error correction Q (a quarter of it may be lost or dirty) into the
 * square of that side at (x, y), the quiet zone included and painted white. Units of the context.
 * BAD_INPUT for a text too long for a QR code. */
gboolean sw_qr_draw (cairo_t *cr, const char *text, double x, double y, double side,
                     GError **error);

G_END_DECLS
