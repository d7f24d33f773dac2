/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The call list on paper: its lines on pages, with room to write the answers. */
#include "core/handout/call-list.h"
#include "core/base/language.h"

#include "core/handout/paper.h"

GBytes *
sw_call_list_pdf (SwCatalogue *catalogue, const char *person, int *out_pages, GError **error)
{
  g_autofree char *text = sw_call_list_text (catalogue, person, error);
  g_autoptr (SwPaper) paper = NULL;
  g_auto (GStrv) lines = NULL;

  if (text == NULL)
    return NULL;
  paper = sw_paper_new (_ ("Call list"));
  lines = g_strsplit (text, "\n", -1);
  for (int i = 0; lines[i] != NULL; i++)
    if (*lines[i] != '\0')
      sw_paper_line (paper, lines[i]);
    else if (lines[i + 1] != NULL) /* not after the last line's end */
      sw_paper_gap (paper);
  return sw_paper_pdf (paper, out_pages, error);
}

gboolean
sw_call_list_write (SwCatalogue *catalogue, const char *person, const char *path, int *out_pages,
                    GError **error)
{
  g_autoptr (GBytes) pdf = sw_call_list_pdf (catalogue, person, out_pages, error);

  return pdf != NULL && sw_paper_write_file (path, ".pdf", pdf, _ ("The call list"), error);
}
