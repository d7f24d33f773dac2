/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <stdio.h>
#include <string.h>

#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/trips.h"

static const SwCommand *const command_tables[] = {
  sw_catalogue_commands, sw_property_commands,  sw_photo_commands, sw_pair_commands,
  sw_item_commands,      sw_said_commands,      sw_money_commands, sw_trade_commands,
  sw_scrap_commands,     sw_trip_commands,      sw_tick_commands,  sw_handout_commands,
  sw_answers_commands,   sw_going_out_commands,
};

GQuark
sw_usage_error_quark (void)
{
  return g_quark_from_static_string ("sw-usage-error-quark");
}

int
sw_usage (GError **error, const char *format, ...)
{
  va_list args;
  g_autofree char *message = NULL;

  va_start (args, format);
  message = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, SW_USAGE_ERROR, 0, message);
  return SW_EXIT_MALFORMED;
}

/* Whether this command has changed something that stands. */
static gboolean has_changed;

static void
note_change (SwCatalogue *catalogue G_GNUC_UNUSED, const char *const *tables G_GNUC_UNUSED,
             gpointer data G_GNUC_UNUSED)
{
  has_changed = TRUE;
}

SwCatalogue *
sw_call_open (SwCall *call, SwOpenMode mode, GError **error)
{
  g_autoptr (GError) inner = NULL;
  SwCatalogue *catalogue = sw_catalogue_open (call->operands[0], mode, &inner);

  if (catalogue != NULL)
    {
      sw_catalogue_set_changed (catalogue, note_change, NULL);
      return catalogue;
    }
  /* A reader cannot bring an older catalogue up to date; where the disk takes it, a writer does so
   * once. Where not, the reader's own sentence says what to do. */
  if (mode == SW_OPEN_READ_ONLY && g_error_matches (inner, SW_ERROR, SW_ERROR_READ_ONLY))
    {
      g_autoptr (SwCatalogue) writer
          = sw_catalogue_open (call->operands[0], SW_OPEN_READ_WRITE, NULL);
      if (writer != NULL)
        {
          g_clear_pointer (&writer, sw_catalogue_close);
          return sw_catalogue_open (call->operands[0], mode, error);
        }
    }
  g_propagate_error (error, g_steal_pointer (&inner));
  return NULL;
}

gboolean
sw_call_day (SwCatalogue *catalogue, const char *text, SwDay *out_day, GError **error)
{
  if (text != NULL)
    return sw_day_parse (text, out_day, error);
  *out_day = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
  return TRUE;
}

gboolean
sw_call_number (const char *text, const char *what, gint64 least, gint64 *out, GError **error)
{
  gint64 value = 0;

  if (!g_ascii_string_to_signed (text, 10, least, G_MAXINT64, &value, NULL))
    {
      sw_usage (error, _ ("%s must be a whole number of at least %" PRId64 ", not '%s'."), what,
                least, text);
      return FALSE;
    }
  *out = value;
  return TRUE;
}

gboolean
sw_call_trip (SwCatalogue *catalogue, const char *text, gint64 *out_trip, GError **error)
{
  SwDay today = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));

  if (text != NULL)
    return sw_call_number (text, _ ("The trip"), 1, out_trip, error);
  if (!sw_trip_at_hand (catalogue, today, out_trip, error))
    return FALSE;
  if (*out_trip != 0)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
               _ ("No trip lies ahead; add the next one, or say which one with --trip."));
  return FALSE;
}

const SwCommand *
sw_command_at (guint i)
{
  for (gsize t = 0; t < G_N_ELEMENTS (command_tables); t++)
    for (const SwCommand *c = command_tables[t]; c->words != NULL; c++)
      if (i-- == 0)
        return c;
  return NULL;
}

/* How many words of the command stand in argv from 1 on; 0 where it is another command. */
static int
words_matched (const SwCommand *command, int argc, char **argv)
{
  g_auto (GStrv) words = g_strsplit (command->words, " ", -1);
  int n = (int)g_strv_length (words);

  if (argc < n + 1)
    return 0;
  for (int i = 0; i < n; i++)
    if (strcmp (words[i], argv[i + 1]) != 0)
      return 0;
  return n;
}

/* The longest that fits: "account entry" before "account". */
static const SwCommand *
find_command (int argc, char **argv, int *out_words)
{
  const SwCommand *found = NULL, *c;

  *out_words = 0;
  for (guint i = 0; (c = sw_command_at (i)) != NULL; i++)
    {
      int n = words_matched (c, argc, argv);
      if (n > *out_words)
        {
          *out_words = n;
          found = c;
        }
    }
  return found;
}

gboolean
sw_cli_is_for_us (int argc, char **argv)
{
  if (argc < 2)
    return FALSE;
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0
      || strcmp (argv[1], "--version") == 0)
    return TRUE;
  if (argv[1][0] == '-')
    return FALSE;
  /* a folder, or the records inside it, which is what a file manager hands over */
  return !g_str_has_suffix (argv[1], ".shedwalk") && !g_str_has_suffix (argv[1], ".shedwalk/")
         && !g_str_has_suffix (argv[1], "/" SW_DATABASE_NAME);
}

static void
print_overview (void)
{
  const SwCommand *c;

  sw_out_text (
      _ ("Usage: shedwalk                          opens the window\n"
         "       shedwalk FOLDER.shedwalk          opens that catalogue in the window\n"
         "       shedwalk COMMAND ...              does one thing and prints what it did\n\n"
         "Commands (each has --help):\n"));
  for (guint i = 0; (c = sw_command_at (i)) != NULL; i++)
    {
      g_autofree char *line = g_strdup_printf ("  %-13s %s\n", c->words, _ (c->summary));
      sw_out_text (line);
    }
  sw_out_text (
      _ ("\nExit: 0 what was asked for now stands; 1 refused, not found, faults found or stopped\n"
         "part-way; 2 the command line itself is wrong. Errors go to stderr in one sentence.\n"
         "--json prints one JSON document to stdout and nothing else; money in JSON is an integer\n"
         "of the currency's minor unit, elsewhere it has a decimal point.\n"));
}

static int
unknown_command (const char *word)
{
  gboolean begun = FALSE;
  const SwCommand *c;

  for (guint i = 0; !begun && (c = sw_command_at (i)) != NULL; i++)
    begun = g_str_has_prefix (c->words, word) && c->words[strlen (word)] == ' ';
  if (begun)
    sw_err_line (_ ("shedwalk: '%s' needs a second word; see shedwalk --help."), word);
  else
    sw_err_line (_ ("shedwalk: there is no command '%s'; see shedwalk --help."), word);
  return SW_EXIT_MALFORMED;
}

/* Of the tables' own texts; what is printed in another form (man page, completions) stays as it is.
 */
static const char *
in_language (const char *text, gpointer data G_GNUC_UNUSED)
{
  return *text != '\0' ? _ (text) : text;
}

static GOptionContext *
make_context (const SwCommand *command, gboolean *json)
{
  GOptionEntry json_entry[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, json, N_ ("Print one JSON document and nothing else"),
      NULL },
    { NULL },
  };
  g_autofree char *parameters = g_strdup (command->operands);
  GOptionContext *context = g_option_context_new (parameters);

  g_option_context_set_translate_func (context, in_language, NULL, NULL);
  g_option_context_set_summary (context, command->summary);
  if (command->help != NULL)
    g_option_context_set_description (context, command->help);
  if (command->help_from_core != NULL)
    g_option_context_set_description (context, command->help_from_core ());
  if (command->options != NULL)
    g_option_context_add_main_entries (context, command->options, NULL);
  g_option_context_add_main_entries (context, json_entry, NULL);
  g_option_group_set_translate_func (g_option_context_get_main_group (context), in_language, NULL,
                                     NULL);
  g_option_context_set_help_enabled (context, FALSE);
  return context;
}

/* --help anywhere before a lone "--" is a question, whatever else stands there. */
static gboolean
asks_for_help (char **argv)
{
  for (int i = 0; argv[i] != NULL && strcmp (argv[i], "--") != 0; i++)
    if (strcmp (argv[i], "--help") == 0 || strcmp (argv[i], "-h") == 0)
      return TRUE;
  return FALSE;
}

static void
drop_double_dash (char **argv)
{
  for (int i = 1; argv[i] != NULL; i++)
    if (strcmp (argv[i], "--") == 0)
      {
        g_free (argv[i]);
        for (; argv[i] != NULL; i++)
          argv[i] = argv[i + 1];
        return;
      }
}

static int
report (const SwCommand *command, int code, const GError *error)
{
  if (error != NULL && error->domain == SW_USAGE_ERROR)
    {
      sw_err_line (_ ("shedwalk %s: %s See shedwalk %s --help."), command->words, error->message,
                   command->words);
      return SW_EXIT_MALFORMED;
    }
  if (error != NULL)
    {
      sw_err_line ("shedwalk: %s%s", error->message,
                   has_changed ? _ (" What was changed before that stands.") : "");
      return SW_EXIT_REFUSED;
    }
  return code;
}

/* Takes argv over: parsing takes the options out of it. */
static int
run_command (const SwCommand *command, GStrv argv_taken)
{
  g_auto (GStrv) argv = argv_taken;
  SwCall call = { 0 };
  g_autoptr (GOptionContext) context = make_context (command, &call.json);
  g_autoptr (GError) error = NULL;
  int code = SW_EXIT_MALFORMED;

  has_changed = FALSE;
  g_set_prgname (argv[0]);
  if (asks_for_help (argv))
    {
      g_autofree char *help = g_option_context_get_help (context, TRUE, NULL);
      sw_out_text (help);
      return sw_out_flush (&error) ? SW_EXIT_STANDS : report (command, SW_EXIT_REFUSED, error);
    }
  if (!g_option_context_parse_strv (context, &argv, &error))
    {
      sw_err_line (_ ("shedwalk %s: %s. See shedwalk %s --help."), command->words, error->message,
                   command->words);
      return SW_EXIT_MALFORMED;
    }
  drop_double_dash (argv);
  call.operands = argv + 1;
  call.n_operands = (int)g_strv_length (call.operands);
  if (call.n_operands < command->least || (command->most >= 0 && call.n_operands > command->most))
    code = sw_usage (&error, _ ("It takes %s."), command->operands);
  else
    code = command->run (&call, &error);
  if (error == NULL)
    sw_out_flush (&error);
  return report (command, code, error);
}

int
sw_cli_main (int argc, char **argv)
{
  int words = 0;
  const SwCommand *command;
  g_auto (GStrv) rest = NULL;

  if (argc < 2 || strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0)
    {
      print_overview ();
      return SW_EXIT_STANDS;
    }
  if (strcmp (argv[1], "--version") == 0)
    {
      sw_out_line ("shedwalk %s", SHEDWALK_VERSION);
      return SW_EXIT_STANDS;
    }
  command = find_command (argc, argv, &words);
  if (command == NULL)
    return unknown_command (argv[1]);
  rest = g_strdupv (argv + words);
  g_free (rest[0]);
  rest[0] = g_strdup_printf ("shedwalk %s", command->words);
  return run_command (command, g_steal_pointer (&rest));
}
