/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A strict reader: what it does not know it refuses by its line, and then nothing is taken. */
#include "core/handout/answer-text.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/table.h"
#include "core/base/text.h"

#define LEAD "shedwalk answers "
#define VERSION 1
/* Enough for any number that a catalogue gives out. */
#define MOST_DIGITS 15

/* As people write them; the longest of those with one beginning first. */
static const struct
{
  const char *word;
  SwAnswerSays says;
} words[] = {
  { "mine", SW_ANSWER_MINE },         { "keep", SW_ANSWER_KEEP },
  { "sell", SW_ANSWER_SELL },         { "unsure", SW_ANSWER_UNSURE },
  { "don't know", SW_ANSWER_UNSURE }, { "don\xE2\x80\x99t know", SW_ANSWER_UNSURE },
  { "dont know", SW_ANSWER_UNSURE },
};

typedef struct
{
  SwAnswers *answers;
  const SwZone *zone;
  gboolean dictated;
  GHashTable *seen; /* "12" or "q7" -> SwAnswer */
  int line;
} Reader;

static gboolean
fail (const Reader *reader, const char *field, const char *why, GError **error)
{
  g_autofree char *shown = sw_text_quote (field);

  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("Line %d, %s: %s; nothing was taken."),
               reader->line, shown, why);
  return FALSE;
}

/* The number at p, moved past it; 0 where there is none. */
static gint64
take_number (const char **p)
{
  gint64 number = 0;
  int digits = 0;

  for (; g_ascii_isdigit (**p) && digits <= MOST_DIGITS; (*p)++, digits++)
    number = number * 10 + (**p - '0');
  return digits <= MOST_DIGITS ? number : 0;
}

static const char *
after_blanks (const char *p)
{
  while (*p == ' ' || *p == '\t')
    p++;
  return p;
}

/* Whether that word stands at p, without case; *p is moved past it. */
static gboolean
take (const char **p, const char *word)
{
  gsize n = strlen (word);
  char next;

  if (n == 0 || g_ascii_strncasecmp (*p, word, n) != 0)
    return FALSE;
  next = (*p)[n];
  if (next != '\0' && next != ' ' && next != '\t' && next != ':' && next != ',' && next != '.')
    return FALSE;
  *p += n;
  return TRUE;
}

/* The word at p, moved past it; NOTHING where there is none. What is read out may be in the words
 * of the page, which are those of the person's language. */
static SwAnswerSays
take_word (const char **p)
{
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (take (p, words[i].word))
      return words[i].says;
  for (int says = SW_ANSWER_NOTHING + 1; says < SW_N_ANSWER_SAYS; says++)
    if (take (p, _ (sw_answer_says_shown ((SwAnswerSays)says))))
      return (SwAnswerSays)says;
  return SW_ANSWER_NOTHING;
}

/* %3B, %0A and %25 of the file. Transfer full. */
static char *
unescape (const char *text)
{
  GString *plain = g_string_new (NULL);

  for (const char *p = text; *p != '\0'; p++)
    {
      char of = g_ascii_strncasecmp (p, "%3B", 3) == 0   ? ';'
                : g_ascii_strncasecmp (p, "%0A", 3) == 0 ? '\n'
                : strncmp (p, "%25", 3) == 0             ? '%'
                                                         : '\0';
      g_string_append_c (plain, of != '\0' ? of : *p);
      if (of != '\0')
        p += 2;
    }
  return g_string_free (plain, FALSE);
}

/* What a person wrote, as one line. NULL where it cannot be taken. Transfer full. */
static char *
take_text (const Reader *reader, const char *text, const char *field, GError **error)
{
  g_autofree char *plain = reader->dictated ? g_strdup (text) : unescape (text);
  g_autoptr (GError) inner = NULL;

  if (sw_text_check (plain, "It", TRUE, TRUE, &inner))
    return sw_text_tidy (plain);
  fail (reader, field, _ ("it holds control characters or is too long"), error);
  return NULL;
}

/* Twice the same is once; twice different cannot both be meant. */
static gboolean
keep (Reader *reader, SwAnswer *answer, const char *field, GError **error)
{
  char *key = g_strdup_printf ("%s%" G_GINT64_FORMAT, answer->question != 0 ? "q" : "",
                               answer->question != 0 ? answer->question : answer->item);
  const SwAnswer *before = g_hash_table_lookup (reader->seen, key);

  if (before == NULL)
    {
      g_hash_table_insert (reader->seen, key, answer);
      g_ptr_array_add (reader->answers->answers, answer);
      return reader->answers->answers->len <= SW_ANSWERS_MAX
             || fail (reader, field, _ ("there are too many answers"), error);
    }
  gboolean same = before->says == answer->says && strcmp (before->text, answer->text) == 0;
  g_free (key);
  sw_answer_free (answer);
  return same
         || fail (reader, field,
                  _ ("this number was answered otherwise above; leave one of the two"), error);
}

static gboolean
read_answer (Reader *reader, const char *field, GError **error)
{
  const char *how = _ ("write the number, then mine, keep, sell or unsure, then a colon and "
                       "a remark where there is one");
  const char *p = field;
  gboolean question = (*p == 'q' || *p == 'Q') && g_ascii_isdigit (p[1]);
  SwAnswerSays says = SW_ANSWER_NOTHING;

  if (question)
    p++;
  gint64 number = take_number (&p);
  if (number == 0)
    return fail (reader, field, how, error);
  p = after_blanks (p);
  gboolean colon = *p == ':';
  if (colon)
    p = after_blanks (p + 1);
  if (!question)
    {
      const char *after = p;
      says = take_word (&after);
      /* behind a colon it is a remark, unless the word is all there is */
      if (says != SW_ANSWER_NOTHING && colon && *after_blanks (after) != '\0')
        says = SW_ANSWER_NOTHING;
      if (says != SW_ANSWER_NOTHING)
        {
          p = after_blanks (after);
          if (*p == '.' && *after_blanks (p + 1) == '\0')
            p++;
          colon = *p == ':';
          if (colon)
            p++;
          if (!colon && *p != '\0')
            return fail (reader, field, how, error);
        }
      else if (!colon)
        return fail (reader, field, how, error);
    }
  g_autofree char *text = take_text (reader, p, field, error);
  if (text == NULL)
    return FALSE;
  if (says == SW_ANSWER_NOTHING && *text == '\0')
    return fail (reader, field, _ ("there is no answer in it"), error);
  SwAnswer *answer = g_new0 (SwAnswer, 1);
  answer->item = question ? 0 : number;
  answer->question = question ? number : 0;
  answer->says = says;
  answer->text = g_steal_pointer (&text);
  return keep (reader, answer, field, error);
}

/* TRUE in *out_is where the field was one of those before the answers. */
static gboolean
read_heading (Reader *reader, const char *field, gboolean *out_is, GError **error)
{
  SwAnswers *answers = reader->answers;

  *out_is = TRUE;
  if (g_str_has_prefix (field, "catalogue ") && answers->catalogue == NULL)
    {
      answers->catalogue = sw_text_tidy (field + strlen ("catalogue "));
      return g_uuid_string_is_valid (answers->catalogue)
             || fail (reader, field, _ ("that is no catalogue's id"), error);
    }
  if (g_str_has_prefix (field, "at ") && !answers->has_at)
    {
      g_autofree char *at = sw_text_tidy (field + strlen ("at "));
      answers->has_at = sw_moment_parse (at, reader->zone, &answers->at, NULL, NULL);
      return answers->has_at || fail (reader, field, _ ("that is no time of ISO 8601"), error);
    }
  if (g_str_has_prefix (field, "by ") && answers->by == NULL)
    {
      answers->by = take_text (reader, field + strlen ("by "), field, error);
      return answers->by != NULL;
    }
  *out_is = FALSE;
  return TRUE;
}

static gboolean
read_field (Reader *reader, char *field, GError **error)
{
  gboolean heading = FALSE;

  while (*field == '>' || *field == ' ' || *field == '\t')
    field++;
  g_strchomp (field);
  if (*field == '\0')
    return TRUE;
  if (!reader->dictated && !read_heading (reader, field, &heading, error))
    return FALSE;
  return heading || read_answer (reader, field, error);
}

/* Whether a dictated answer begins behind the comma: a number and its word. */
static gboolean
begins_answer (const char *p)
{
  p = after_blanks (p);
  if (take_number (&p) == 0)
    return FALSE;
  p = after_blanks (p);
  return take_word (&p) != SW_ANSWER_NOTHING;
}

static gboolean
read_line (Reader *reader, char *line, GError **error)
{
  char *field = line;

  for (char *p = line;; p++)
    {
      char was = *p;
      gboolean parts = was == ';' || (was == ',' && reader->dictated && begins_answer (p + 1));

      if (!parts && was != '\0')
        continue;
      *p = '\0';
      if (!read_field (reader, field, error))
        return FALSE;
      if (was == '\0')
        return TRUE;
      field = p + 1;
    }
}

/* Past the first field; its version must be ours. */
static char *
skip_lead (Reader *reader, char *text, GError **error)
{
  char *lead = strstr (text, LEAD);

  reader->dictated = lead == NULL;
  if (lead == NULL)
    return text;
  for (const char *p = text; p < lead; p++)
    reader->line += *p == '\n';
  const char *p = lead + strlen (LEAD);
  gint64 version = take_number (&p);
  if (version == VERSION && (*p == ';' || *p == '\n' || *p == '\r' || *p == ' ' || *p == '\0'))
    return (char *)p;
  if (version > VERSION)
    g_set_error_literal (
        error, SW_ERROR, SW_ERROR_NEWER_SCHEMA,
        _ ("These answers were made by a newer Shedwalk; take them in with that one."));
  else
    fail (reader, "shedwalk answers", _ ("the number of the format is missing behind it"), error);
  return NULL;
}

SwAnswers *
sw_answer_text_parse (GBytes *bytes, const SwZone *zone, GError **error)
{
  if (g_bytes_get_size (bytes) > SW_ANSWER_TEXT_MAX)
    {
      g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                           _ ("That is too long for answers of the family; nothing was taken."));
      return NULL;
    }
  gsize length = 0;
  g_autofree char *text = sw_table_decode (bytes, &length, NULL);
  if (text == NULL || strlen (text) != length)
    {
      g_set_error_literal (
          error, SW_ERROR, SW_ERROR_BAD_INPUT,
          _ ("This cannot be read as text; save the answers as plain text (UTF-8). "
             "Nothing was taken."));
      return NULL;
    }
  g_autoptr (SwAnswers) answers = g_new0 (SwAnswers, 1);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Reader reader = { .answers = answers, .zone = zone, .seen = seen, .line = 1 };
  answers->answers = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_answer_free);
  char *rest = skip_lead (&reader, text, error);
  if (rest == NULL)
    return NULL;
  for (char *next; rest != NULL; rest = next, reader.line++)
    {
      next = strchr (rest, '\n');
      if (next != NULL)
        *next++ = '\0';
      if (!read_line (&reader, rest, error))
        return NULL;
    }
  if (!reader.dictated && answers->catalogue == NULL)
    {
      g_set_error_literal (
          error, SW_ERROR, SW_ERROR_BAD_INPUT,
          _ ("These answers do not say which property they are about: the line that "
             "begins with 'catalogue' is missing; nothing was taken."));
      return NULL;
    }
  return g_steal_pointer (&answers);
}

SwAnswers *
sw_answer_text_read (const char *path, const SwZone *zone, GError **error)
{
  g_autofree char *shown = sw_text_quote (path);
  g_autofree char *what = g_strdup_printf (_ ("The file %s could not be read"), shown);
  g_autoptr (GByteArray) all = g_byte_array_new ();
  int file = open (path, O_RDONLY | O_CLOEXEC);
  gssize n = file < 0 ? -1 : 1;

  while (n > 0 && all->len <= SW_ANSWER_TEXT_MAX)
    {
      guint8 some[65536];
      n = read (file, some, sizeof some);
      if (n > 0)
        g_byte_array_append (all, some, (guint)n);
    }
  int errsv = errno;
  if (file >= 0)
    close (file);
  if (n < 0)
    {
      sw_error_from_errno (error, errsv, what);
      return NULL;
    }
  g_autoptr (GBytes) bytes = g_byte_array_free_to_bytes (g_steal_pointer (&all));
  return sw_answer_text_parse (bytes, zone, error);
}
