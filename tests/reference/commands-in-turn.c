/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands one after another, so that thousands of random properties can be booked and read.
 *
 * Reads a JSON array of words a line from stdin; answers with a line of exit code, bytes of stdout
 * and bytes of stderr, and then those bytes. Ends with stdin. */
#include <json-glib/json-glib.h>
#include <stdio.h>

#include "core/trade/takings.h"
#include "in-turn.h"

static void
answer (char **words)
{
  g_autoptr (GBytes) said = NULL, complained = NULL;
  int code = in_turn_run (words, &said, &complained);

  printf ("%d %zu %zu\n", code, g_bytes_get_size (said), g_bytes_get_size (complained));
  fwrite (g_bytes_get_data (said, NULL), 1, g_bytes_get_size (said), stdout);
  fwrite (g_bytes_get_data (complained, NULL), 1, g_bytes_get_size (complained), stdout);
  fflush (stdout);
}

static GStrv
read_words (const char *line)
{
  g_autoptr (JsonNode) node = json_from_string (line, NULL);
  g_autoptr (GStrvBuilder) words = g_strv_builder_new ();
  JsonArray *array = json_node_get_array (node);

  g_strv_builder_add (words, "shedwalk");
  for (guint i = 0; i < json_array_get_length (array); i++)
    g_strv_builder_add (words, json_array_get_string_element (array, i));
  return g_strv_builder_end (words);
}

int
main (void)
{
  char *line = NULL;
  size_t size = 0;

  sw_takings_register_check ();
  while (getline (&line, &size, stdin) > 0)
    {
      g_auto (GStrv) words = read_words (line);
      answer (words);
    }
  free (line);
  in_turn_let_go ();
  return 0;
}
