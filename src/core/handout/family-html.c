/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The family choice as one page of HTML. Everything that a person wrote is escaped here and nowhere
 * else; the script and the style are the same bytes for everybody and are named by their hashes in
 * the page's policy (W3C Content Security Policy Level 3, 2.3.1: hash-source), which allows nothing
 * to be loaded. */
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/answers.h"
#include "core/handout/family-private.h"

/* Made with the resources (handout.gresource.xml). */
GResource *sw_handout_get_resource (void);

static GBytes *
part_of_page (const char *name)
{
  g_autofree char *path = g_strconcat ("/org/shedwalk/handout/", name, NULL);
  g_autoptr (GError) error = NULL;
  GBytes *bytes = g_resource_lookup_data (sw_handout_get_resource (), path,
                                          G_RESOURCE_LOOKUP_FLAGS_NONE, &error);
  g_assert (bytes != NULL); /* it is part of the program */
  return bytes;
}

/* "'sha256-...'" of what will stand in the element. */
static char *
hash_source (GBytes *text)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  guint8 digest[32];
  gsize n = sizeof digest, length = 0;
  const guint8 *data = g_bytes_get_data (text, &length);

  g_checksum_update (sum, data, (gssize)length);
  g_checksum_get_digest (sum, digest, &n);
  g_autofree char *base64 = g_base64_encode (digest, n);
  return g_strdup_printf ("'sha256-%s'", base64);
}

/* HTML's five, and control characters as a blank. */
static void
add_text (GString *page, const char *text)
{
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      const char *name = c == '&'    ? "&amp;"
                         : c == '<'  ? "&lt;"
                         : c == '>'  ? "&gt;"
                         : c == '"'  ? "&quot;"
                         : c == '\'' ? "&#39;"
                                     : NULL;
      if (name != NULL)
        g_string_append (page, name);
      else
        g_string_append_unichar (page, g_unichar_iscntrl (c) && c != '\n' ? ' ' : c);
    }
}

/* 'format' is ours and may hold tags; %s is what a person wrote, %d a number. */
static void
add (GString *page, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  for (const char *p = format; *p != '\0'; p++)
    if (*p != '%')
      g_string_append_c (page, *p);
    else if (*++p == 's')
      add_text (page, va_arg (args, const char *));
    else
      g_string_append_printf (page, "%" G_GINT64_FORMAT, va_arg (args, gint64));
  va_end (args);
}

/* What the script says, by the names it knows them by. */
static const struct
{
  const char *name, *sentence;
} said[] = {
  { "count", N_ ("%d of %d answered") },
  { "kept", N_ ("What you enter is kept in this browser until you are done.") },
  { "not-kept", N_ ("This browser keeps nothing: finish before you close the page.") },
  { "name-first", N_ ("Please enter your name first.") },
  { "no-answer", N_ ("There is no answer yet.") },
  { "made", N_ ("The file %s was made; send it back.") },
  { "mark", N_ ("Mark the text below and copy it.") },
  { "copied", N_ ("Copied; paste it into a message.") },
};

static void
add_head (GString *page, const SwFamilyChoice *choice, GBytes *style, GBytes *script)
{
  g_autofree char *style_hash = hash_source (style), *script_hash = hash_source (script);
  g_autofree char *title = g_strdup_printf (_ ("%s: the family choice"), choice->property);

  add (page, "<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\">\n",
       /* Translators: the code of your language, as in HTML (BCP 47) */
       C_ ("code of the language", "en"));
  g_string_append_printf (
      page,
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
      "style-src %s; script-src %s; base-uri 'none'; form-action 'none'\">\n",
      style_hash, script_hash);
  g_string_append (page,
                   "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                   "<meta name=\"referrer\" content=\"no-referrer\">\n"
                   "<meta name=\"robots\" content=\"noindex\">\n"
                   "<meta name=\"format-detection\" content=\"telephone=no\">\n"
                   "<link rel=\"icon\" href=\"data:,\">\n");
  add (page, "<title>%s</title>\n<style>", title);
  g_string_append_len (page, g_bytes_get_data (style, NULL), (gssize)g_bytes_get_size (style));
  add (page, "</style>\n</head>\n<body data-catalogue=\"%s\"", choice->id);
  for (gsize i = 0; i < G_N_ELEMENTS (said); i++)
    add (page, " data-say-%s=\"%s\"", said[i].name, _ (said[i].sentence));
  g_string_append (page, ">\n");
}

static void
add_opening (GString *page, const SwFamilyChoice *choice)
{
  add (page,
       "<header>\n<h1>%s</h1>\n<p>%s</p>\n<p>%s</p>\n"
       "<noscript><p class=\"caution\">%s</p></noscript>\n"
       "<label class=\"field\" for=\"by\">%s\n"
       "<input type=\"text\" id=\"by\" maxlength=\"100\" autocomplete=\"name\" value=\"%s\">"
       "</label>\n"
       "<p class=\"soft\" id=\"kept\"></p>\n</header>\n<main>\n",
       choice->property,
       _ ("Please say for each thing what you would like to become of it: mine (you want it "
          "yourself), keep (it should stay with somebody of the family), sell, or don't know."),
       _ ("Nothing is sent from this page. At its end you save your answers as a small file, or "
          "copy them, and send them back the way the page came. It is no promise yet that you get "
          "a thing: somebody else may say 'mine' too."),
       _ ("Scripts are off in this viewer, so the page cannot note your answers. Open it in a "
          "browser, or answer by number in a message: 12 mine, 14 keep."),
       _ ("Your name"), choice->person != NULL ? choice->person : "");
}

static void
add_pictures (GString *page, const SwFamilyItem *item, const GPtrArray *pictures)
{
  if (pictures->len == 0)
    {
      add (page, "<p class=\"none\">%s</p>\n", _ ("There is no picture of it."));
      return;
    }
  g_string_append (page, "<div class=\"pictures\">\n");
  for (guint i = 0; i < pictures->len; i++)
    {
      const SwFamilyPicture *picture = g_ptr_array_index (pictures, i);
      gsize n = 0;
      const guint8 *data = g_bytes_get_data (picture->jpeg, &n);
      g_autofree char *base64 = g_base64_encode (data, n);
      g_autofree char *told
          = g_strdup_printf (_ ("%s, picture %u of %u"), item->name, i + 1, pictures->len);

      add (page, "<img decoding=\"async\" width=\"%d\" height=\"%d\" alt=\"%s\" ",
           (gint64)picture->width, (gint64)picture->height, told);
      g_string_append_printf (page, "src=\"data:image/jpeg;base64,%s\">\n", base64);
    }
  g_string_append (page, "</div>\n");
}

static void
add_choices (GString *page, const SwFamilyItem *item)
{
  static const SwAnswerSays says[]
      = { SW_ANSWER_MINE, SW_ANSWER_KEEP, SW_ANSWER_SELL, SW_ANSWER_UNSURE };
  g_autofree char *none = g_strdup_printf (_ ("No answer for number %" PRId64), item->number);
  g_autofree char *remark = g_strdup_printf (_ ("Remark on number %" PRId64), item->number);

  add (page, "<fieldset>\n<legend>%s</legend>\n<div class=\"choices\">\n",
       _ ("What should become of it?"));
  for (gsize i = 0; i < G_N_ELEMENTS (says); i++)
    {
      const char *word = sw_answer_says_word (says[i]);
      g_autofree char *shown = sw_text_capital (_ (sw_answer_says_shown (says[i])));

      add (page,
           "<label for=\"i%d-%s\"><input type=\"radio\" name=\"i%d\" id=\"i%d-%s\" value=\"%s\" "
           "aria-describedby=\"h%d\">%s</label>\n",
           item->number, word, item->number, item->number, word, word, item->number, shown);
    }
  add (page,
       "<button type=\"button\" class=\"plain clear\" aria-label=\"%s\">"
       "%s</button>\n</div>\n</fieldset>\n"
       "<label class=\"field\" for=\"r%d\">%s\n"
       "<textarea class=\"remark\" id=\"r%d\" rows=\"1\" maxlength=\"1000\"></textarea></label>\n",
       none, C_ ("an answer", "Clear"), item->number, remark, item->number);
}

static void
add_item (GString *page, const SwFamilyItem *item, const GPtrArray *pictures)
{
  add (page,
       "<article data-number=\"%d\" aria-labelledby=\"h%d\">\n"
       "<h3 id=\"h%d\"><span class=\"number\">%d</span>%s",
       item->number, item->number, item->number, item->number, item->name);
  if (item->count > 1)
    {
      g_autofree char *pieces = sw_text_count (item->count, "%d piece", "%d pieces");
      add (page, " (%s)", pieces);
    }
  g_string_append (page, "</h3>\n");
  add_pictures (page, item, pictures);
  if (item->lines->len + item->cautions->len > 0)
    g_string_append (page, "<ul>\n");
  for (guint i = 0; i < item->lines->len; i++)
    add (page, "<li>%s</li>\n", (char *)g_ptr_array_index (item->lines, i));
  for (guint i = 0; i < item->cautions->len; i++)
    {
      g_autofree char *caution
          = g_strdup_printf (_ ("Caution, %s"), (char *)g_ptr_array_index (item->cautions, i));
      add (page, "<li class=\"caution\">%s</li>\n", caution);
    }
  if (item->lines->len + item->cautions->len > 0)
    g_string_append (page, "</ul>\n");
  add_choices (page, item);
  for (guint i = 0; i < item->questions->len; i++)
    {
      const SwFamilyQuestion *question = g_ptr_array_index (item->questions, i);
      g_autofree char *asked = g_strdup_printf (_ ("A question to you: %s"), question->text);
      add (page,
           "<label class=\"field\" for=\"q%d\">%s\n"
           "<textarea class=\"question\" id=\"q%d\" data-question=\"%d\" rows=\"1\" "
           "maxlength=\"1000\"></textarea></label>\n",
           question->id, asked, question->id, question->id);
    }
  g_string_append (page, "</article>\n");
}

static void
add_end (GString *page, GBytes *script)
{
  add (page,
       "</main>\n<footer id=\"send\">\n<h2>%s</h2>\n<p>%s</p>\n"
       "<div class=\"row\"><button type=\"button\" id=\"save\">%s</button>"
       "<button type=\"button\" id=\"copy\" class=\"plain\">%s</button></div>\n"
       "<p id=\"told\" role=\"status\" aria-live=\"polite\"></p>\n"
       "<label class=\"field\" for=\"line\">%s\n"
       "<textarea id=\"line\" readonly rows=\"5\"></textarea></label>\n</footer>\n"
       "<div class=\"bar\"><span id=\"count\"></span><a href=\"#send\">%s</a></div>\n"
       "<script>",
       _ ("Send your answers back"),
       _ ("Save them as a file and send that, or copy the text and paste it into a message. On the "
          "telephone the numbers are enough: '12 mine, 14 keep'."),
       _ ("Save as a file"), _ ("Copy as text"), _ ("Your answers as text"), _ ("Send them back"));
  g_string_append_len (page, g_bytes_get_data (script, NULL), (gssize)g_bytes_get_size (script));
  g_string_append (page, "</script>\n</body>\n</html>\n");
}

GBytes *
sw_family_html (const SwFamilyChoice *choice, const GPtrArray *pictures)
{
  g_autoptr (GBytes) style = part_of_page ("family-page.css");
  g_autoptr (GBytes) script = part_of_page ("family-page.js");
  GString *page = g_string_new (NULL);
  const char *place = NULL;

  add_head (page, choice, style, script);
  add_opening (page, choice);
  for (guint i = 0; i < choice->items->len; i++)
    {
      const SwFamilyItem *item = g_ptr_array_index (choice->items, i);

      if (g_strcmp0 (place, item->place) != 0)
        add (page, "<h2 class=\"place\">%s</h2>\n", item->place);
      place = item->place;
      add_item (page, item, g_ptr_array_index (pictures, i));
    }
  add_end (page, script);
  return g_string_free_to_bytes (page);
}
