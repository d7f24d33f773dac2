/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Our codes as text. Strict: what is not exactly as sw_code_format writes it is not ours. */
#include "core/match/codes.h"

#include <string.h>

#define FORM "SW1"
#define FORM_STEM "SW"
/* Longer than any of ours: not looked at. */
#define LONGEST 40

static const char kinds[SW_N_CODE_KINDS] = { [SW_CODE_PLACE] = 'P', [SW_CODE_TAG] = 'T' };
static const char alphabet[] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/* ISO/IEC 7064:2003, clause 7: a pure system with two check characters. The weights are the powers
 * of the radix 36 and the whole is 1 modulo 1271. */
gboolean
sw_code_check_characters (const char *text, char out[3])
{
  guint rest = 0, check;

  for (const char *p = text; *p != '\0'; p++)
    {
      const char *at = strchr (alphabet, *p);

      if (at == NULL)
        return FALSE;
      rest = (rest + (guint)(at - alphabet)) * 36 % 1271;
    }
  rest = rest * 36 % 1271;
  check = (1271 + 1 - rest) % 1271;
  out[0] = alphabet[check / 36];
  out[1] = alphabet[check % 36];
  out[2] = '\0';
  return TRUE;
}

gboolean
sw_code_catalogue (SwCatalogue *catalogue, char *out, GError **error)
{
  g_autofree char *id = sw_catalogue_id (catalogue, error);
  g_autofree char *digest = NULL;

  if (id == NULL)
    return FALSE;
  digest = g_compute_checksum_for_string (G_CHECKSUM_SHA256, id, -1);
  for (int k = 0; k < SW_CODE_CATALOGUE_LENGTH; k++)
    out[k] = g_ascii_toupper (digest[k]);
  out[SW_CODE_CATALOGUE_LENGTH] = '\0';
  return TRUE;
}

char *
sw_code_format (const SwCode *code)
{
  g_autofree char *bare = NULL;
  char check[3];

  g_return_val_if_fail (code->kind < SW_N_CODE_KINDS && code->number >= 1
                            && code->number <= SW_CODE_NUMBER_MAX,
                        NULL);
  bare = g_strdup_printf ("%s%c%s%" G_GINT64_FORMAT, FORM, kinds[code->kind], code->catalogue,
                          code->number);
  g_return_val_if_fail (sw_code_check_characters (bare, check), NULL);
  return g_strdup_printf ("%s:%c:%s:%" G_GINT64_FORMAT ":%s", FORM, kinds[code->kind],
                          code->catalogue, code->number, check);
}

static gboolean
is_catalogue (const char *text)
{
  return strlen (text) == SW_CODE_CATALOGUE_LENGTH
         && strspn (text, "0123456789ABCDEF") == SW_CODE_CATALOGUE_LENGTH;
}

static gboolean
is_number (const char *text, gint64 *out)
{
  return strlen (text) <= 9 && text[0] >= '1' && text[0] <= '9'
         && strspn (text, "0123456789") == strlen (text)
         && g_ascii_string_to_signed (text, 10, 1, SW_CODE_NUMBER_MAX, out, NULL);
}

/* "SW2:..." and on. */
static gboolean
is_later (const char *form)
{
  gint64 number = 0;

  return g_str_has_prefix (form, FORM_STEM) && is_number (form + strlen (FORM_STEM), &number)
         && number > 1;
}

SwCodeVerdict
sw_code_parse (const char *text, SwCode *out)
{
  SwCode code = { .kind = SW_N_CODE_KINDS };
  g_auto (GStrv) parts = NULL;
  g_autofree char *bare = NULL;
  char check[3];

  if (text == NULL || strnlen (text, LONGEST + 1) > LONGEST)
    return SW_CODE_FOREIGN;
  parts = g_strsplit (text, ":", 7);
  if (g_strv_length (parts) < 2)
    return SW_CODE_FOREIGN;
  if (strcmp (parts[0], FORM) != 0)
    return is_later (parts[0]) ? SW_CODE_LATER : SW_CODE_FOREIGN;
  if (g_strv_length (parts) != 5 || !is_catalogue (parts[2]) || !is_number (parts[3], &code.number))
    return SW_CODE_FOREIGN;
  for (int k = 0; k < SW_N_CODE_KINDS; k++)
    if (parts[1][0] == kinds[k] && parts[1][1] == '\0')
      code.kind = (SwCodeKind)k;
  if (code.kind == SW_N_CODE_KINDS)
    return SW_CODE_FOREIGN;
  bare = g_strconcat (parts[0], parts[1], parts[2], parts[3], NULL);
  if (!sw_code_check_characters (bare, check) || strcmp (check, parts[4]) != 0)
    return SW_CODE_SPOILT;
  memcpy (code.catalogue, parts[2], SW_CODE_CATALOGUE_LENGTH + 1);
  *out = code;
  return SW_CODE_READ;
}
