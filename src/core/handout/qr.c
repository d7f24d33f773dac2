/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The symbol comes from libqrencode; here it becomes one path, so that no renderer shows seams
 * between its modules. */
#include "core/handout/qr.h"

#include <qrencode.h>

#include "core/base/error.h"
#include "core/base/language.h"

typedef QRcode Symbol;
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Symbol, QRcode_free)

static gboolean
is_dark (const Symbol *symbol, int column, int row)
{
  return symbol->data[row * symbol->width + column] & 1;
}

/* Runs of dark modules, row by row. */
static void
add_row (cairo_t *cr, const Symbol *symbol, int row)
{
  for (int column = 0; column < symbol->width;)
    {
      int end = column;

      while (end < symbol->width && is_dark (symbol, end, row))
        end++;
      if (end > column)
        cairo_rectangle (cr, column, row, end - column, 1);
      column = end + 1;
    }
}

gboolean
sw_qr_draw (cairo_t *cr, const char *text, double x, double y, double side, GError **error)
{
  g_autoptr (Symbol) symbol = QRcode_encodeString (text, 0, QR_ECLEVEL_Q, QR_MODE_8, 1);
  double module;

  if (symbol == NULL)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("No code can be drawn of '%.40s'."),
                   text);
      return FALSE;
    }
  module = side / (symbol->width + 2 * SW_QR_QUIET);
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_rectangle (cr, 0, 0, side, side);
  cairo_fill (cr);
  cairo_translate (cr, SW_QR_QUIET * module, SW_QR_QUIET * module);
  cairo_scale (cr, module, module);
  cairo_set_source_rgb (cr, 0, 0, 0);
  for (int row = 0; row < symbol->width; row++)
    add_row (cr, symbol, row);
  cairo_fill (cr);
  cairo_restore (cr);
  return TRUE;
}
