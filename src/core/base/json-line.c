/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/base/json-line.h"

#include <errno.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"

/* ---- writing ---- */

void
sw_json_append_string (GString *to, const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);

  g_string_append_c (to, '"');
  for (const guchar *p = (const guchar *)valid; *p != '\0'; p++)
    if (*p == '"' || *p == '\\')
      g_string_append_printf (to, "\\%c", *p);
    else if (*p < 0x20 || *p == 0x7f)
      g_string_append_printf (to, "\\u%04x", *p);
    else
      g_string_append_c (to, (char)*p);
  g_string_append_c (to, '"');
}

void
sw_json_append_double (GString *to, double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  if (value > G_MAXDOUBLE || value < -G_MAXDOUBLE)
    g_string_append (to, value > 0 ? "1e999" : "-1e999");
  else
    g_string_append (to, g_ascii_dtostr (text, sizeof text, value));
}

/* ---- reading ---- */

typedef struct
{
  const char *p, *end;
} Scan;

static void
value_free (gpointer data)
{
  g_free (((SwJsonValue *)data)->text);
  g_free (data);
}

static void
skip_blanks (Scan *scan)
{
  while (scan->p < scan->end
         && (*scan->p == ' ' || *scan->p == '\t' || *scan->p == '\r' || *scan->p == '\n'))
    scan->p++;
}

static gboolean
take (Scan *scan, char c)
{
  skip_blanks (scan);
  if (scan->p >= scan->end || *scan->p != c)
    return FALSE;
  scan->p++;
  return TRUE;
}

/* Four hexadecimal digits; -1 where they are not there. */
static int
take_hex (Scan *scan)
{
  int value = 0;

  if (scan->end - scan->p < 4)
    return -1;
  for (int i = 0; i < 4; i++)
    {
      int digit = g_ascii_xdigit_value (*scan->p++);
      if (digit < 0)
        return -1;
      value = value * 16 + digit;
    }
  return value;
}

/* What stands behind a backslash and u; surrogates must come in pairs. NUL is none of ours. */
static gboolean
take_escaped_char (Scan *scan, GString *to)
{
  int code = take_hex (scan);

  if (code >= 0xd800 && code < 0xdc00)
    {
      if (scan->end - scan->p < 2 || scan->p[0] != '\\' || scan->p[1] != 'u')
        return FALSE;
      scan->p += 2;
      int low = take_hex (scan);
      if (low < 0xdc00 || low > 0xdfff)
        return FALSE;
      code = 0x10000 + ((code - 0xd800) << 10) + (low - 0xdc00);
    }
  else if (code <= 0 || (code >= 0xdc00 && code <= 0xdfff))
    return FALSE;
  g_string_append_unichar (to, (gunichar)code);
  return TRUE;
}

static gboolean
take_escape (Scan *scan, GString *to)
{
  static const char from[] = "\"\\/bfnrt", plain[] = "\"\\/\b\f\n\r\t";
  char c = scan->p < scan->end ? *scan->p++ : '\0';
  const char *at = c != '\0' ? strchr (from, c) : NULL;

  if (c == 'u')
    return take_escaped_char (scan, to);
  if (at == NULL)
    return FALSE;
  g_string_append_c (to, plain[at - from]);
  return TRUE;
}

/* Transfer full; NULL where it is no string. */
static char *
take_string (Scan *scan)
{
  g_autoptr (GString) text = NULL;

  if (!take (scan, '"'))
    return NULL;
  text = g_string_new (NULL);
  while (scan->p < scan->end)
    {
      guchar c = (guchar)*scan->p++;
      if (c == '"')
        return g_utf8_validate_len (text->str, text->len, NULL)
                   ? g_string_free (g_steal_pointer (&text), FALSE)
                   : NULL;
      if (c < 0x20 || (c == '\\' && !take_escape (scan, text)))
        return NULL;
      if (c != '\\')
        g_string_append_c (text, (char)c);
    }
  return NULL;
}

/* The grammar of RFC 8259, section 6. */
static gboolean
take_number (Scan *scan, SwJsonValue *value)
{
  char text[64];
  gsize n = 0;
  gboolean whole = TRUE;

  for (; scan->p < scan->end && strchr ("+-.0123456789eE", *scan->p) != NULL && *scan->p != '\0';
       scan->p++)
    {
      if (n + 1 >= sizeof text)
        return FALSE;
      whole = whole && strchr (".eE+", *scan->p) == NULL;
      text[n++] = *scan->p;
    }
  text[n] = '\0';
  const char *digits = text + (text[0] == '-');
  char *end = NULL;
  if (!g_ascii_isdigit (*digits) || (digits[0] == '0' && g_ascii_isdigit (digits[1])))
    return FALSE;
  value->kind = whole ? SW_JSON_INT : SW_JSON_DOUBLE;
  if (whole)
    return g_ascii_string_to_signed (text, 10, G_MININT64, G_MAXINT64, &value->integer, NULL);
  value->number = g_ascii_strtod (text, &end);
  return *end == '\0' && end[-1] != '.';
}

static SwJsonValue *
take_value (Scan *scan)
{
  SwJsonValue *value = g_new0 (SwJsonValue, 1);

  skip_blanks (scan);
  if (scan->end - scan->p >= 4 && strncmp (scan->p, "null", 4) == 0)
    {
      scan->p += 4;
      return value;
    }
  if (scan->p < scan->end && *scan->p == '"')
    {
      value->kind = SW_JSON_STRING;
      value->text = take_string (scan);
      if (value->text != NULL)
        return value;
    }
  else if (take_number (scan, value))
    return value;
  value_free (value);
  return NULL;
}

static gboolean
take_member (Scan *scan, GHashTable *into)
{
  g_autofree char *name = take_string (scan);
  SwJsonValue *value = name != NULL && take (scan, ':') ? take_value (scan) : NULL;

  if (value == NULL)
    return FALSE;
  if (g_hash_table_contains (into, name))
    {
      value_free (value);
      return FALSE;
    }
  return g_hash_table_insert (into, g_steal_pointer (&name), value);
}

GHashTable *
sw_json_line_parse (const char *line, gsize length, GError **error)
{
  Scan scan = { line, line + length };
  g_autoptr (GHashTable) object
      = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, value_free);
  gboolean ok = take (&scan, '{');

  if (ok && !take (&scan, '}'))
    {
      do
        ok = take_member (&scan, object);
      while (ok && take (&scan, ','));
      ok = ok && take (&scan, '}');
    }
  skip_blanks (&scan);
  if (ok && scan.p == scan.end)
    return g_steal_pointer (&object);
  g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                       _ ("This is no JSON object of plain values."));
  return NULL;
}
