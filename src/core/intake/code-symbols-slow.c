/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zbar: scans lines along the sides. What it misses and what the other reader misses are seldom the
 * same. */
#include "core/intake/code-symbols.h"

#include <zbar.h>

/* Every second line is scanned: three more codes in forty are worth less than twice the time. */
#define LINE_STEP 2

static gboolean
take (const zbar_symbol_t *from, SwSymbol *symbol)
{
  if (zbar_symbol_get_type (from) != ZBAR_QRCODE
      || zbar_symbol_get_loc_size (from) != G_N_ELEMENTS (symbol->x))
    return FALSE;
  for (guint k = 0; k < G_N_ELEMENTS (symbol->x); k++)
    {
      symbol->x[k] = zbar_symbol_get_loc_x (from, k);
      symbol->y[k] = zbar_symbol_get_loc_y (from, k);
    }
  symbol->data = zbar_symbol_get_data (from);
  symbol->n = zbar_symbol_get_data_length (from);
  return TRUE;
}

void
sw_symbols_find_slowly (const guint8 *luma, guint width, guint height, SwSymbolFunc found,
                        gpointer user)
{
  zbar_image_scanner_t *scanner = zbar_image_scanner_create ();
  zbar_image_t *image = zbar_image_create ();

  zbar_image_scanner_request_dbus (scanner, 0);
  zbar_image_scanner_set_config (scanner, ZBAR_NONE, ZBAR_CFG_ENABLE, 0);
  zbar_image_scanner_set_config (scanner, ZBAR_QRCODE, ZBAR_CFG_ENABLE, 1);
  zbar_image_scanner_set_config (scanner, ZBAR_NONE, ZBAR_CFG_X_DENSITY, LINE_STEP);
  zbar_image_scanner_set_config (scanner, ZBAR_NONE, ZBAR_CFG_Y_DENSITY, LINE_STEP);
  zbar_image_set_format (image, zbar_fourcc ('Y', '8', '0', '0'));
  zbar_image_set_size (image, width, height);
  zbar_image_set_data (image, luma, (gsize)width * height, NULL);
  if (zbar_scan_image (scanner, image) > 0)
    for (const zbar_symbol_t *s = zbar_image_first_symbol (image); s != NULL;
         s = zbar_symbol_next (s))
      {
        SwSymbol symbol;

        if (take (s, &symbol))
          found (&symbol, user);
      }
  zbar_image_destroy (image);
  zbar_image_scanner_destroy (scanner);
}
