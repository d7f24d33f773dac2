/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The call list: by person, by place, harmless text. */
#include "core/catalogue/questions.h"
#include "core/handout/call-list.h"
#include "sw-records.h"

static void
test_by_person_and_place (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_item (&records, "Screw press", 1, -1);
  SwDay by = records_day ("2026-05-01");
  g_autoptr (GError) error = NULL;
  gint64 answered = 0;
  sw_question_add (records.catalogue, press, "Whose is it?", NULL, NULL, NULL, &error);
  sw_question_add (records.catalogue, press, "Does it turn?", "Bea", &by, NULL, &error);
  sw_question_add (records.catalogue, press, "Is it\nold?", "Ada", NULL, NULL, &error);
  sw_question_add (records.catalogue, press, "Sold?", "Ada", NULL, &answered, &error);
  assert_true (sw_question_answer (records.catalogue, answered, "no", &error));
  g_autofree char *all = sw_call_list_text (records.catalogue, NULL, &error);
  assert_no_error (error);
  assert_string_equal (all,
                       "To ask Ada\n\nPress house\n  1  Screw press: Is it\\x0Aold?\n"
                       "      ________________________________\n\n"
                       "To ask Bea\n\nPress house\n  1  Screw press: Does it turn?  by 2026-05-01\n"
                       "      ________________________________\n\n"
                       "To find out\n\nPress house\n  1  Screw press: Whose is it?\n"
                       "      ________________________________\n");
  g_autofree char *one = sw_call_list_text (records.catalogue, "Bea", &error);
  assert_true (g_str_has_prefix (one, "To ask Bea\n"));
  assert_null (strstr (one, "Ada"));
  g_autofree char *none = sw_call_list_text (records.catalogue, "Cleo", &error);
  assert_string_equal (none, "Nothing to ask.\n");
}

/* 3 questions of 3 lines each, then as many as fill pages; a file of our own each time. */
static void
test_on_paper (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  gint64 press = records_item (&records, "Screw press", 1, -1);
  g_autofree char *path = g_build_filename (records.folder, "calls.pdf", NULL);
  g_autofree char *wrong = g_build_filename (records.folder, "calls.txt", NULL);
  int pages = 0;
  for (int i = 0; i < 60; i++)
    assert_true (
        sw_question_add (records.catalogue, press, "Does it turn?", "Bea", NULL, NULL, &error));
  assert_true (sw_call_list_write (records.catalogue, "Bea", path, &pages, &error));
  assert_no_error (error);
  /* 120 lines; a page of 257 mm takes some 45 of 11 points and their lead */
  assert_in_range (pages, 2, 5);
  g_autoptr (GBytes) once = sw_call_list_pdf (records.catalogue, "Bea", NULL, &error);
  g_autoptr (GBytes) twice = sw_call_list_pdf (records.catalogue, "Bea", NULL, &error);
  assert_true (g_bytes_equal (once, twice));
  g_autofree char *bytes = NULL;
  gsize n = 0;
  assert_true (g_file_get_contents (path, &bytes, &n, &error));
  assert_memory_equal (bytes, "%PDF-", 5); /* ISO 32000-1:2008, 7.5.2 */
  assert_false (sw_call_list_write (records.catalogue, "Bea", wrong, &pages, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, ".pdf");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_by_person_and_place);
  SW_TEST (tests, test_on_paper);
  return sw_tests_run (tests, "call list");
}
