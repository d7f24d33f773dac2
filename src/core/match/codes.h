/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the QR codes on place cards and tags say, and how it is told from codes of anybody else.
 * Match layer, pure: text in, text out; nothing in a code is ever opened, run or looked up.
 *
 *   SW1:P:3F09A1B2C4D5:12:AB
 *   SW1      the form of the text; another form has another number
 *   P or T   a place card or a tag
 *   3F09...  the catalogue: 48 bits of the SHA-256 of its random id, in capital hex digits
 *   12       the place's or the tag's number in that catalogue, no leading zeros
 *   AB       two check characters by ISO/IEC 7064:2003, MOD 1271-36, over all before them without
 *            the colons: every single wrong character and every swap of two neighbours shows
 *
 * No name, position or owner stands in it. All characters are of QR's alphanumeric set (ISO/IEC
 * 18004:2015, 7.3.4), so that a card needs few modules. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef enum
{
  SW_CODE_PLACE,
  SW_CODE_TAG,
  SW_N_CODE_KINDS,
} SwCodeKind;

#define SW_CODE_CATALOGUE_LENGTH 12
#define SW_CODE_NUMBER_MAX 999999999

typedef struct
{
  SwCodeKind kind;
  char catalogue[SW_CODE_CATALOGUE_LENGTH + 1];
  gint64 number; /* 1 to SW_CODE_NUMBER_MAX */
} SwCode;

typedef enum
{
  SW_CODE_READ,    /* it is a card or tag of some catalogue */
  SW_CODE_FOREIGN, /* not of our form */
  SW_CODE_LATER,   /* of a later form of ours */
  SW_CODE_SPOILT,  /* of our form, but its check characters do not fit */
} SwCodeVerdict;

/* The catalogue's part of its codes; a buffer of SW_CODE_CATALOGUE_LENGTH + 1. */
gboolean sw_code_catalogue (SwCatalogue *catalogue, char *out, GError **error);

/* The text of a code. Transfer full. */
char *sw_code_format (const SwCode *code);
/* *out is set with SW_CODE_READ alone. Any text, NULL too. */
SwCodeVerdict sw_code_parse (const char *text, SwCode *out);

/* Two check characters by ISO/IEC 7064:2003 MOD 1271-36 for a string of 0-9 and A-Z; FALSE where
 * another character is in it. */
gboolean sw_code_check_characters (const char *text, char out[3]);

G_END_DECLS
