/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes the tables of the commands in the languages of man and of three shells. */
#include "cli/describe.h"

#include <string.h>

#include "cli/command.h"

/* ---- the words of a command ---- */

static char *
first_word (const SwCommand *command)
{
  return g_strndup (command->words, strcspn (command->words, " "));
}

/* NULL where the command has one word. Transfer none. */
static const char *
second_word (const SwCommand *command)
{
  const char *space = strchr (command->words, ' ');

  return space != NULL ? space + 1 : NULL;
}

static gboolean
begins_earlier (guint before, const char *first)
{
  for (guint i = 0; i < before; i++)
    {
      g_autofree char *other = first_word (sw_command_at (i));
      if (strcmp (other, first) == 0)
        return TRUE;
    }
  return FALSE;
}

/* First words, each once, in the order of the tables. Transfer full. */
static GStrv
first_words (void)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  const SwCommand *command;

  for (guint i = 0; (command = sw_command_at (i)) != NULL; i++)
    {
      g_autofree char *first = first_word (command);
      if (!begins_earlier (i, first))
        g_strv_builder_add (builder, first);
    }
  return g_strv_builder_end (builder);
}

/* Second words of the commands that begin so, joined by spaces; "" for none. Transfer full. */
static char *
second_words (const char *first)
{
  GString *words = g_string_new (NULL);
  const SwCommand *command;

  for (guint i = 0; (command = sw_command_at (i)) != NULL; i++)
    {
      g_autofree char *begin = first_word (command);
      const char *second = second_word (command);
      if (second != NULL && strcmp (begin, first) == 0)
        g_string_append_printf (words, "%s%s", words->len > 0 ? " " : "", second);
    }
  return g_string_free (words, FALSE);
}

static const GOptionEntry json_option[]
    = { { .long_name = "json",
          .arg = G_OPTION_ARG_NONE,
          .description = "Print one JSON document and nothing else" },
        { .long_name = "help", .arg = G_OPTION_ARG_NONE, .description = "Say what it does" },
        { NULL } };

typedef void (*OptionFunc) (GString *out, const SwCommand *command, const GOptionEntry *option);

/* Those of its own, then those that each command has. */
static void
each_option (GString *out, const SwCommand *command, OptionFunc one)
{
  for (const GOptionEntry *o = command->options; o != NULL && o->long_name != NULL; o++)
    if (*o->long_name != '\0') /* the operands, where GLib collects them */
      one (out, command, o);
  for (const GOptionEntry *o = json_option; o->long_name != NULL; o++)
    one (out, command, o);
}

static gboolean
takes_value (const GOptionEntry *option)
{
  return option->arg != G_OPTION_ARG_NONE;
}

static const char *
value_name (const GOptionEntry *option)
{
  return option->arg_description != NULL ? option->arg_description : "VALUE";
}

/* ---- the manual page ---- */

/* Text that roff takes as it is: no escape, no line that begins a request, no hyphen that breaks an
 * option copied from the page. */
static void
add_roff (GString *out, const char *text)
{
  gboolean line_begins = TRUE;

  for (const char *p = text; *p != '\0'; p++)
    {
      if (line_begins && (*p == '.' || *p == '\''))
        g_string_append (out, "\\&");
      if (*p == '\\')
        g_string_append (out, "\\e");
      else if (*p == '-')
        g_string_append (out, "\\-");
      else
        g_string_append_c (out, *p);
      line_begins = *p == '\n';
    }
}

static void
add_sentence (GString *out, const char *text)
{
  add_roff (out, text);
  g_string_append (out, g_str_has_suffix (text, ".") ? "\n" : ".\n");
}

/* As it stands, line by line. */
static void
add_verbatim (GString *out, const char *text)
{
  g_string_append (out, ".PP\n.nf\n");
  add_roff (out, text);
  if (!g_str_has_suffix (text, "\n"))
    g_string_append_c (out, '\n');
  g_string_append (out, ".fi\n");
}

static void
man_option (GString *out, const SwCommand *command, const GOptionEntry *option)
{
  g_string_append (out, ".TP\n.B \\-\\-");
  add_roff (out, option->long_name);
  if (takes_value (option))
    {
      g_string_append (out, " \\fI");
      add_roff (out, value_name (option));
      g_string_append (out, "\\fR");
    }
  g_string_append_c (out, '\n');
  add_sentence (out, option->description != NULL ? option->description : "");
}

static void
man_command (GString *out, const SwCommand *command)
{
  const char *more = command->help_from_core != NULL ? command->help_from_core () : command->help;

  g_string_append (out, ".SS \"shedwalk ");
  add_roff (out, command->words);
  if (command->operands != NULL)
    {
      g_autofree char *inert = g_strdup (command->operands);
      g_strdelimit (inert, "\"", '\'');
      g_string_append_c (out, ' ');
      add_roff (out, inert);
    }
  g_string_append (out, "\"\n");
  add_sentence (out, command->summary);
  each_option (out, command, man_option);
  if (more != NULL)
    add_verbatim (out, more);
}

static const char man_head[]
    = ".TH SHEDWALK 1 \"November 27, 2026\" \"shedwalk " SHEDWALK_VERSION "\" \"User Commands\"\n"
      ".SH NAME\nshedwalk \\- catalogue of a property that is cleared, building by building\n"
      ".SH SYNOPSIS\n.B shedwalk\n[\\fIFOLDER\\fR.shedwalk]\n.br\n"
      ".B shedwalk\n\\fICOMMAND\\fR \\fIARGUMENT\\fR...\n"
      ".SH DESCRIPTION\n"
      "Photos of what might sell become items almost by themselves; each is decided on, offered,\n"
      "sold or scrapped; and the family sees what each trip raised after fees.\n"
      "Without an argument the window opens; with a folder it opens that catalogue.\n"
      "With a command no display is needed.\n"
      ".PP\nMoney in JSON is an integer of the currency's minor unit, elsewhere it has a decimal\n"
      "point. Shedwalk never uses a network.\n"
      ".SH COMMANDS\n";
static const char man_foot[]
    = ".SH EXIT STATUS\n.TP\n.B 0\nWhat was asked for now stands.\n"
      ".TP\n.B 1\nRefused, not found, faults found, or stopped part\\-way; what was done is kept.\n"
      ".TP\n.B 2\nThe command line itself is wrong.\n"
      ".SH FILES\n.TP\n.I NAME.shedwalk/\n"
      "A catalogue: its photos below photos/, its records in catalogue.db (SQLite), backups below\n"
      "backups/. thumbs.db can be made again.\n";

char *
sw_describe_man (void)
{
  GString *out = g_string_new (man_head);
  const SwCommand *command;

  for (guint i = 0; (command = sw_command_at (i)) != NULL; i++)
    man_command (out, command);
  g_string_append (out, man_foot);
  return g_string_free (out, FALSE);
}

/* ---- shells ---- */

static void
word_option (GString *out, const SwCommand *command, const GOptionEntry *option)
{
  g_string_append_printf (out, " --%s", option->long_name);
}

char *
sw_describe_bash (void)
{
  g_auto (GStrv) firsts = first_words ();
  g_autofree char *all = g_strjoinv (" ", firsts);
  GString *out = g_string_new ("# Completion of shedwalk for bash.\n_shedwalk() {\n"
                               "  local current=${COMP_WORDS[COMP_CWORD]} seconds= options= words\n"
                               "  COMPREPLY=()\n"
                               "  case ${COMP_WORDS[1]-} in\n");
  const SwCommand *command;

  for (guint i = 0; firsts[i] != NULL; i++)
    {
      g_autofree char *seconds = second_words (firsts[i]);
      if (*seconds != '\0')
        g_string_append_printf (out, "  %s) seconds='%s' ;;\n", firsts[i], seconds);
    }
  g_string_append (out, "  esac\n  case \"${COMP_WORDS[1]-} ${COMP_WORDS[2]-}\" in\n");
  /* two words before one: the first that fits counts */
  for (int pass = 2; pass >= 1; pass--)
    for (guint i = 0; (command = sw_command_at (i)) != NULL; i++)
      if ((second_word (command) != NULL) == (pass == 2))
        {
          g_string_append_printf (out, "  '%s'%s) options='", command->words,
                                  pass == 2 ? "" : "\\ *");
          each_option (out, command, word_option);
          g_string_append (out, "' ;;\n");
        }
  g_string_append_printf (
      out,
      "  esac\n"
      "  if [ \"$COMP_CWORD\" -eq 1 ]; then words='%s --help --version'\n"
      "  elif [ \"$COMP_CWORD\" -eq 2 ] && [ -n \"$seconds\" ]; then words=$seconds\n"
      "  else words=; fi\n"
      "  case $current in -*) words=\"$words $options\" ;; esac\n"
      "  mapfile -t COMPREPLY < <(compgen -W \"$words\" -- \"$current\")\n"
      "}\ncomplete -o bashdefault -o default -F _shedwalk shedwalk\n",
      all);
  return g_string_free (out, FALSE);
}

/* Between single quotes of a shell. Transfer full. */
static char *
in_quotes (const char *text)
{
  g_autoptr (GString) quoted = g_string_new (text != NULL ? text : "");

  g_string_replace (quoted, "'", "'\\''", 0);
  return g_strdup (quoted->str);
}

static void
zsh_option (GString *out, const SwCommand *command, const GOptionEntry *option)
{
  g_autoptr (GString) inert = g_string_new (option->description != NULL ? option->description : "");
  g_autofree char *told = NULL;

  /* brackets and colons are the syntax of _arguments */
  g_string_replace (inert, "[", "(", 0);
  g_string_replace (inert, "]", ")", 0);
  told = in_quotes (inert->str);
  g_string_append_printf (out, " \\\n        '*--%s[%s]%s%s%s'", option->long_name, told,
                          takes_value (option) ? ":" : "",
                          takes_value (option) ? value_name (option) : "",
                          takes_value (option) ? ":_files" : "");
}

char *
sw_describe_zsh (void)
{
  g_auto (GStrv) firsts = first_words ();
  GString *out = g_string_new ("#compdef shedwalk\n_shedwalk() {\n"
                               "  if (( CURRENT == 2 )); then\n    local -a commands\n"
                               "    commands=(");
  const SwCommand *command;

  for (guint i = 0; firsts[i] != NULL; i++)
    g_string_append_printf (out, " %s", firsts[i]);
  g_string_append (out, ")\n    compadd -a commands\n    _files -/\n    return\n  fi\n");
  g_string_append (out, "  if (( CURRENT == 3 )); then\n    case $words[2] in\n");
  for (guint i = 0; firsts[i] != NULL; i++)
    {
      g_autofree char *seconds = second_words (firsts[i]);
      if (*seconds != '\0')
        g_string_append_printf (out, "      (%s) compadd %s ;;\n", firsts[i], seconds);
    }
  g_string_append (out, "    esac\n  fi\n  case \"$words[2] $words[3]\" in\n");
  for (int pass = 2; pass >= 1; pass--)
    for (guint i = 0; (command = sw_command_at (i)) != NULL; i++)
      if ((second_word (command) != NULL) == (pass == 2))
        {
          g_string_append_printf (out, "    ('%s'%s) _arguments", command->words,
                                  pass == 2 ? "" : "\\ *");
          each_option (out, command, zsh_option);
          g_string_append (out, " \\\n        '*:argument:_files' ;;\n");
        }
  g_string_append (out, "  esac\n}\n_shedwalk \"$@\"\n");
  return g_string_free (out, FALSE);
}

/* When fish offers what belongs to this command. */
static void
fish_condition (GString *out, const SwCommand *command)
{
  g_autofree char *first = first_word (command);
  const char *second = second_word (command);

  g_string_append_printf (out, "complete -c shedwalk -n '__fish_seen_subcommand_from %s", first);
  if (second != NULL)
    g_string_append_printf (out, "; and __fish_seen_subcommand_from %s", second);
  g_string_append_c (out, '\'');
}

static void
fish_option (GString *out, const SwCommand *command, const GOptionEntry *option)
{
  g_autofree char *told = in_quotes (option->description);

  fish_condition (out, command);
  g_string_append_printf (out, " -l %s%s -d '%s'\n", option->long_name,
                          takes_value (option) ? " -r" : "", told);
}

static void
fish_words (GString *out, guint i, const SwCommand *command)
{
  g_autofree char *first = first_word (command);
  g_autofree char *told = in_quotes (command->summary);
  const char *second = second_word (command);

  if (second == NULL)
    g_string_append_printf (out, "complete -c shedwalk -n __fish_use_subcommand -a %s -d '%s'\n",
                            first, told);
  else if (!begins_earlier (i, first))
    g_string_append_printf (out, "complete -c shedwalk -n __fish_use_subcommand -a %s\n", first);
  if (second != NULL)
    g_string_append_printf (
        out, "complete -c shedwalk -n '__fish_seen_subcommand_from %s' -a %s -d '%s'\n", first,
        second, told);
}

char *
sw_describe_fish (void)
{
  GString *out = g_string_new ("# Completion of shedwalk for fish.\n");
  const SwCommand *command;

  for (guint i = 0; (command = sw_command_at (i)) != NULL; i++)
    {
      fish_words (out, i, command);
      each_option (out, command, fish_option);
    }
  return g_string_free (out, FALSE);
}
