/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The two libraries that look for QR codes, behind one face: ZXing, which is C++, and zbar. Run
 * only inside the decode helper. Intake layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  const char *data; /* bytes as they stand in the symbol, without an end */
  gsize n;
  gint x[4], y[4]; /* its corners in turn, pixels */
} SwSymbol;

typedef void (*SwSymbolFunc) (const SwSymbol *symbol, gpointer user);

/* Calls found for each QR code (ISO/IEC 18004:2015) on a picture of width * height bytes of luma,
 * the rows without padding, however it lies. The symbol is there for the call alone. Where memory
 * runs out, no more are found. */
void sw_symbols_find (const guint8 *luma, guint width, guint height, SwSymbolFunc found,
                      gpointer user);
/* The same by other means: at the same size it takes twice the time and finds half as many, but of
 * what the first has missed it finds every third. */
void sw_symbols_find_slowly (const guint8 *luma, guint width, guint height, SwSymbolFunc found,
                             gpointer user);

G_END_DECLS
