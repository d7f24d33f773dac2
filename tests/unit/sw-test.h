/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every test file needs: cmocka with its includes, checks that print decimals and sentences,
 * and rows of a table that each fail by their own name. Belongs to the tests alone. */
#pragma once

#include "core/base/error.h"
#include "core/base/money.h"

#include <glib.h>
#include <glib/gstdio.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* cmocka's assert_int_equal prints hexadecimal, in which nobody reads cents or seconds. */
static inline void
sw_test_i64_equal (gint64 actual, gint64 expected, const char *what, const char *file, int line)
{
  if (actual == expected)
    return;
  print_error ("%s is %" G_GINT64_FORMAT ", expected %" G_GINT64_FORMAT "\n", what, actual,
               expected);
  _fail (file, line);
}
#define assert_i64_equal(actual, expected)                                                         \
  sw_test_i64_equal ((actual), (expected), #actual, __FILE__, __LINE__)

/* A SwMoney against minor units. */
#define assert_money_equal(actual, expected_minor)                                                 \
  sw_test_i64_equal ((actual).minor, (expected_minor), #actual, __FILE__, __LINE__)

static inline void
sw_test_no_error (const GError *error, const char *file, int line)
{
  if (error == NULL)
    return;
  print_error ("unexpected error: %s\n", error->message);
  _fail (file, line);
}
#define assert_no_error(error) sw_test_no_error ((error), __FILE__, __LINE__)

/* A sentence for a person, and nothing in it that a terminal would obey. */
static inline gboolean
sw_test_is_sentence (const char *message)
{
  if (!g_utf8_validate (message, -1, NULL) || !g_str_has_suffix (message, "."))
    return FALSE;
  for (const char *p = message; *p != '\0'; p = g_utf8_next_char (p))
    if (g_unichar_iscntrl (g_utf8_get_char (p)))
      return FALSE;
  return TRUE;
}

/* The error is there, of our domain and this code, and its message is a sentence. */
static inline void
sw_test_error (const GError *error, GQuark domain, int code, const char *file, int line)
{
  if (error == NULL)
    print_error ("an error was expected and there is none\n");
  else if (error->domain != domain || error->code != code)
    print_error ("error of the wrong kind (%s %d, expected %s %d): %s\n",
                 g_quark_to_string (error->domain), error->code, g_quark_to_string (domain), code,
                 error->message);
  else if (!sw_test_is_sentence (error->message))
    print_error ("the message is no harmless sentence: %s\n", error->message);
  else
    return;
  _fail (file, line);
}
#define assert_error(error, domain, code)                                                          \
  sw_test_error ((error), (domain), (code), __FILE__, __LINE__)
#define assert_sw_error(error, code) assert_error ((error), SW_ERROR, (code))

/* For messages that must name something: a line number, a file, a figure. */
static inline void
sw_test_contains (const char *text, const char *part, const char *file, int line)
{
  if (text != NULL && strstr (text, part) != NULL)
    return;
  print_error ("\"%s\" does not contain \"%s\"\n", text != NULL ? text : "(null)", part);
  _fail (file, line);
}
#define assert_contains(text, part) sw_test_contains ((text), (part), __FILE__, __LINE__)

/* A list of tests: single functions, and functions called once for each row of a table. A row is a
 * struct whose first member is its label (const char *); the function finds it in *state. */
typedef GArray SwTests;

static inline SwTests *
sw_tests_new (void)
{
  return g_array_new (FALSE, TRUE, sizeof (struct CMUnitTest));
}

static inline void
sw_tests_add (SwTests *tests, const char *name, CMUnitTestFunction function, const void *row)
{
  struct CMUnitTest test = {
    .name = g_strdup (name),
    .test_func = function,
    .initial_state = (void *)(gsize)row,
  };
  g_array_append_val (tests, test);
}

static inline void
sw_tests_add_rows (SwTests *tests, const char *name, CMUnitTestFunction function, const void *rows,
                   gsize n, gsize size)
{
  for (gsize i = 0; i < n; i++)
    {
      const char *row = (const char *)rows + i * size;
      const char *label;
      memcpy (&label, row, sizeof label);
      g_autofree char *full = g_strdup_printf ("%s: %s", name, label);
      sw_tests_add (tests, full, function, row);
    }
}
#define SW_TEST(tests, function) sw_tests_add ((tests), #function, (function), NULL)
#define SW_TEST_ROWS(tests, function, rows)                                                        \
  sw_tests_add_rows ((tests), #function, (function), (rows), G_N_ELEMENTS (rows), sizeof *(rows))

/* Runs and frees the list; the number of failures, for main to return. */
static inline int
sw_tests_run (SwTests *tests, const char *group)
{
  g_assert (tests->len > 0);
  struct CMUnitTest *list = (struct CMUnitTest *)(void *)tests->data;
  int failures = _cmocka_run_group_tests (group, list, tests->len, NULL, NULL);
  for (guint i = 0; i < tests->len; i++)
    g_free ((char *)(gsize)list[i].name);
  g_array_free (tests, TRUE);
  return failures;
}
