/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pack's title and text as plain text, HTML and CSV. */
#include "core/base/table.h"
#include "core/handout/pack.h"

char *
sw_pack_plain (const SwPack *pack)
{
  g_autofree char *price
      = pack->price != NULL
            ? g_strdup_printf ("\n%s: %s %s\n", pack->price_label, pack->price, pack->currency)
            : g_strdup ("");

  return g_strdup_printf ("%s\n\n%s\n%s", pack->title, pack->text, price);
}

/* Each line a paragraph; empty ones are none. */
static void
add_paragraphs (GString *html, const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (char **line = lines; *line != NULL; line++)
    if (**line != '\0')
      {
        g_autofree char *escaped = g_markup_escape_text (*line, -1);
        g_string_append_printf (html, "<p>%s</p>\n", escaped);
      }
}

char *
sw_pack_html (const SwPack *pack, const GPtrArray *photos)
{
  g_autofree char *title = g_markup_escape_text (pack->title, -1);
  GString *html = g_string_new (NULL);

  g_string_append_printf (html,
                          "<!DOCTYPE html>\n<html>\n<head>\n<meta charset=\"utf-8\">\n"
                          "<meta name=\"viewport\" content=\"width=device-width\">\n"
                          "<title>%s</title>\n</head>\n<body>\n<h1>%s</h1>\n",
                          title, title);
  add_paragraphs (html, pack->text);
  if (pack->price != NULL)
    g_string_append_printf (html, "<p>%s: %s %s</p>\n", pack->price_label, pack->price,
                            pack->currency);
  for (guint i = 0; i < photos->len; i++)
    g_string_append_printf (html,
                            "<p><img src=\"%s\" alt=\"Photo %u of %u\" style=\"max-width:100%%\">"
                            "</p>\n",
                            (const char *)g_ptr_array_index (photos, i), i + 1, photos->len);
  g_string_append (html, "</body>\n</html>\n");
  return g_string_free (html, FALSE);
}

char *
sw_pack_csv (const SwPack *pack, const GPtrArray *photos)
{
  GString *csv = g_string_new ("title,text,price,currency,photos\r\n");
  g_autoptr (GString) files = g_string_new (NULL);

  for (guint i = 0; i < photos->len; i++)
    g_string_append_printf (files, "%s%s", i > 0 ? " " : "",
                            (const char *)g_ptr_array_index (photos, i));
  sw_table_append_cell (csv, pack->title, TRUE);
  g_string_append_c (csv, ',');
  sw_table_append_cell (csv, pack->text, TRUE);
  g_string_append_printf (csv, ",%s,%s,", pack->price != NULL ? pack->price : "", pack->currency);
  sw_table_append_cell (csv, files->str, TRUE);
  g_string_append (csv, "\r\n");
  return g_string_free (csv, FALSE);
}
