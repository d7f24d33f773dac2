/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ZXing's own thorough search, for QR codes alone: the bars on old boxes are none of our business.
 * No exception leaves this file. */
#include "core/intake/code-symbols.h"

#include <exception>

/* without it the library's header warns that an older type of text will go */
#define ZX_USE_UTF8
#include <ZXing/ReadBarcode.h>

static SwSymbol
symbol_of (const ZXing::Result &result)
{
  SwSymbol symbol = {};

  symbol.data = reinterpret_cast<const char *> (result.bytes ().data ());
  symbol.n = result.bytes ().size ();
  for (int k = 0; k < 4; k++)
    {
      symbol.x[k] = result.position ()[k].x;
      symbol.y[k] = result.position ()[k].y;
    }
  return symbol;
}

void
sw_symbols_find (const guint8 *luma, guint width, guint height, SwSymbolFunc found, gpointer user)
try
  {
    ZXing::ImageView view (luma, static_cast<int> (width), static_cast<int> (height),
                           ZXing::ImageFormat::Lum);
    ZXing::DecodeHints hints;

    hints.setFormats (ZXing::BarcodeFormat::QRCode);
    hints.setTryHarder (true);
    /* who asks makes a coarser picture, and only where none was found */
    hints.setTryDownscale (false);
    for (const ZXing::Result &result : ZXing::ReadBarcodes (view, hints))
      if (result.isValid ())
        {
          SwSymbol symbol = symbol_of (result);

          found (&symbol, user);
        }
  }
catch (const std::exception &)
  {
  }
