/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text that came from outside: checked, tidied, made harmless to print.
 * Knows no field of any record; the caller says what the text is. */
#include "core/base/text.h"

#include "core/base/error.h"
#include "core/base/language.h"

#include <string.h>

#define STEM_MAX 40
#define QUOTE_MAX 60

/* Line and paragraph separators break a line as a newline does. */
static gboolean
is_separator (gunichar c)
{
  return c == 0x2028 || c == 0x2029;
}

/* Unicode 15.0, UAX #9, table 2: characters that reorder what stands around them. */
static gboolean
is_bidi_control (gunichar c)
{
  return c == 0x061c || c == 0x200e || c == 0x200f || (c >= 0x202a && c <= 0x202e)
         || (c >= 0x2066 && c <= 0x2069);
}

static gboolean
is_control (gunichar c)
{
  return c < 0x20 || (c >= 0x7f && c < 0xa0);
}

static gboolean
fail_text (const char *what, const char *why, GError **error)
{
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, "%s %s.", what, why);
  return FALSE;
}

gboolean
sw_text_check (const char *text, const char *what, gboolean multiline, gboolean may_be_empty,
               GError **error)
{
  if (text == NULL)
    text = "";
  G_STATIC_ASSERT (SW_TEXT_MAX == 10000); /* as the sentence says */
  if (strlen (text) > SW_TEXT_MAX)
    return fail_text (what, _ ("is too long; shorten it to 10000 bytes"), error);
  if (!g_utf8_validate (text, -1, NULL))
    return fail_text (what, _ ("is not valid text in UTF-8; type it again"), error);
  gboolean blank = TRUE;
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      gboolean breaks = c == '\n' || c == '\t' || is_separator (c);
      if (breaks && !multiline)
        return fail_text (
            what, _ ("must stand on one line without tabs; take the line break or tab out"), error);
      if (is_control (c) && !breaks)
        return fail_text (what, _ ("holds a control character that cannot be seen; type it again"),
                          error);
      blank = blank && g_unichar_isspace (c);
    }
  if (blank && !may_be_empty)
    return fail_text (what, _ ("is empty; type something"), error);
  return TRUE;
}

gboolean
sw_text_check_not_none (const char *name, const char *what, GError **error)
{
  g_autofree char *tidy = sw_text_tidy (name);
  if (!sw_text_same_name (tidy, "none"))
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("%s cannot be '%s': in the takings that row holds what has none; choose another "
                  "name."),
               what, tidy);
  return FALSE;
}

char *
sw_text_tidy (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text != NULL ? text : "", -1);
  GString *tidy = g_string_sized_new (strlen (valid));
  gboolean space = FALSE;
  for (const char *p = valid; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      if (g_unichar_isspace (c))
        {
          space = tidy->len > 0;
          continue;
        }
      if (space)
        g_string_append_c (tidy, ' ');
      space = FALSE;
      g_string_append_unichar (tidy, c);
    }
  return g_string_free (tidy, FALSE);
}

/* One character at p if it may be printed as it is, else 0. */
static gsize
harmless_length (const char *p, gsize left)
{
  gunichar c = g_utf8_get_char_validated (p, (gssize)left);
  if (c == (gunichar)-1 || c == (gunichar)-2)
    return 0;
  if (is_control (c) || is_bidi_control (c) || is_separator (c))
    return 0;
  return (gsize)(g_utf8_next_char (p) - p);
}

/* Bytes of one refused character: a whole one where it is valid, else one byte. */
static gsize
refused_length (const char *p, gsize left)
{
  gunichar c = g_utf8_get_char_validated (p, (gssize)left);
  if (c == (gunichar)-1 || c == (gunichar)-2 || c == 0)
    return 1;
  return (gsize)(g_utf8_next_char (p) - p);
}

char *
sw_text_printable (const char *bytes, gssize length)
{
  if (bytes == NULL)
    return g_strdup ("");
  gsize left = length < 0 ? strlen (bytes) : (gsize)length;
  GString *text = g_string_sized_new (left);
  for (const char *p = bytes; left > 0;)
    {
      gsize n = harmless_length (p, left);
      if (n > 0)
        g_string_append_len (text, p, (gssize)n);
      else
        {
          n = refused_length (p, left);
          for (gsize i = 0; i < n; i++)
            g_string_append_printf (text, "\\x%02X", (guint)(guchar)p[i]);
        }
      p += n;
      left -= n;
    }
  return g_string_free (text, FALSE);
}

char *
sw_text_quote (const char *text)
{
  g_autofree char *safe = sw_text_printable (text, -1);
  if (strlen (safe) <= QUOTE_MAX)
    return g_strdup_printf ("\xe2\x80\x98%s\xe2\x80\x99", safe);
  const char *cut = g_utf8_find_prev_char (safe, safe + QUOTE_MAX);
  safe[cut - safe] = '\0';
  return g_strdup_printf ("\xe2\x80\x98%s\xe2\x80\xa6\xe2\x80\x99", safe);
}

/* Device names that a FAT medium cannot hold, whatever their extension. */
static const char *const reserved_stems[] = { "con", "prn", "aux", "nul" };

static gboolean
is_reserved_stem (const char *stem)
{
  for (gsize i = 0; i < G_N_ELEMENTS (reserved_stems); i++)
    if (g_ascii_strcasecmp (stem, reserved_stems[i]) == 0)
      return TRUE;
  return strlen (stem) == 4 && g_ascii_isdigit (stem[3])
         && (g_ascii_strncasecmp (stem, "com", 3) == 0
             || g_ascii_strncasecmp (stem, "lpt", 3) == 0);
}

char *
sw_text_safe_stem (const char *name)
{
  g_autofree char *tidy = sw_text_tidy (name);
  /* The C locale, so that a name gives the same file everywhere. */
  g_autofree char *ascii = g_str_to_ascii (tidy, "C");
  GString *stem = g_string_new (NULL);
  for (const char *p = ascii; *p != '\0' && stem->len < STEM_MAX; p++)
    {
      gboolean kept = g_ascii_isalnum (*p) || *p == '_';
      if (kept)
        g_string_append_c (stem, *p);
      else if (stem->len > 0 && stem->str[stem->len - 1] != '-')
        g_string_append_c (stem, '-');
    }
  while (stem->len > 0 && stem->str[stem->len - 1] == '-')
    g_string_truncate (stem, stem->len - 1);
  if (stem->len == 0)
    g_string_assign (stem, "x");
  if (is_reserved_stem (stem->str))
    g_string_append_c (stem, '_');
  return g_string_free (stem, FALSE);
}

static char *
name_key (const char *name)
{
  g_autofree char *tidy = sw_text_tidy (name);
  g_autofree char *composed = g_utf8_normalize (tidy, -1, G_NORMALIZE_DEFAULT_COMPOSE);
  g_autofree char *folded = g_utf8_casefold (composed, -1);
  return g_utf8_normalize (folded, -1, G_NORMALIZE_DEFAULT_COMPOSE);
}

gboolean
sw_text_same_name (const char *a, const char *b)
{
  g_autofree char *x = name_key (a);
  g_autofree char *y = name_key (b);
  return strcmp (x, y) == 0;
}

char *
sw_text_capital (const char *word)
{
  g_autofree char *head = *word != '\0' ? g_utf8_substring (word, 0, 1) : g_strdup ("");
  g_autofree char *capital = g_utf8_strup (head, -1);

  return g_strconcat (capital, word + strlen (head), NULL);
}
