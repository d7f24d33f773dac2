/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Flat JSON objects by the grammar of RFC 8259 (Bray 2017); the examples of surrogate pairs are its
 * section 7's. */
#include "core/base/json-line.h"
#include "sw-test.h"

static const struct
{
  const char *line;
  SwJsonKind kind;
  gint64 integer;
  const char *text;
} good[] = {
  { "{\"a\": null}", SW_JSON_NULL, 0, NULL },
  { " { \"a\" : 12 } \n", SW_JSON_INT, 12, NULL },
  { "{\"a\":-9223372036854775808}", SW_JSON_INT, G_MININT64, NULL },
  { "{\"a\":9223372036854775807}", SW_JSON_INT, G_MAXINT64, NULL },
  { "{\"a\":1.5e1}", SW_JSON_DOUBLE, 15, NULL },
  { "{\"a\":-0.25}", SW_JSON_DOUBLE, 0, NULL },
  { "{\"a\":\"\"}", SW_JSON_STRING, 0, "" },
  { "{\"a\":\"x\\n\\\"\\\\\\/\\u00fc\"}", SW_JSON_STRING, 0, "x\n\"\\/\xC3\xBC" },
  { "{\"a\":\"\\uD834\\uDD1E\"}", SW_JSON_STRING, 0, "\xF0\x9D\x84\x9E" },
  { "{\"b\":1,\"a\":2}", SW_JSON_INT, 2, NULL },
};

static const char *const bad[] = {
  "",
  "{",
  "}",
  "[]",
  "null",
  "{\"a\"}",
  "{\"a\":}",
  "{\"a\":1,}",
  "{a:1}",
  "{'a':1}",
  "{\"a\":1}x",
  "{\"a\":01}",
  "{\"a\":+1}",
  "{\"a\":.5}",
  "{\"a\":1.}",
  "{\"a\":1e}",
  "{\"a\":--1}",
  "{\"a\":nul}",
  "{\"a\":true}",
  "{\"a\":[1]}",
  "{\"a\":{}}",
  "{\"a\":\"x}",
  "{\"a\":\"\n\"}",
  "{\"a\":\"\\x\"}",
  "{\"a\":\"\\u12\"}",
  "{\"a\":\"\\u0000\"}",
  "{\"a\":\"\\ud800\"}",
  "{\"a\":\"\\udc00\"}",
  "{\"a\":\"\\ud834\\u0041\"}",
  "{\"a\":\"\xff\"}",
  "{\"a\":1,\"a\":1}",
  "{\"a\":9223372036854775808}",
  "{\"a\":1 \"b\":2}",
  "{\"a\":1}{\"a\":1}",
  "{\"a\":\"\\",
  "{\"a\":1e5e5}",
  "{\"a\":1111111111111111111111111111111111111111111111111111111111111111111}",
};

static void
test_good (void **state)
{
  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GHashTable) object
          = sw_json_line_parse (good[i].line, strlen (good[i].line), &error);
      assert_no_error (error);
      const SwJsonValue *value = g_hash_table_lookup (object, "a");
      assert_non_null (value);
      assert_int_equal (value->kind, good[i].kind);
      assert_true (value->kind != SW_JSON_INT || value->integer == good[i].integer);
      assert_true (value->kind != SW_JSON_DOUBLE || (gint64)value->number == good[i].integer);
      if (good[i].text != NULL)
        assert_string_equal (value->text, good[i].text);
    }
}

static void
test_bad (void **state)
{
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;
      if (sw_json_line_parse (bad[i], strlen (bad[i]), &error) != NULL)
        fail_msg ("taken: %s", bad[i]);
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
    }
}

static void
test_there_and_back (void **state)
{
  const char *text = "a\"b\\c\n\t\x01\x7f \xC3\xBC \xF0\x9D\x84\x9E =1+1 </script>";
  const double numbers[] = { 0, -0.1, 1.0 / 3, 5e-324, 1.7976931348623157e308, 123456789.125 };
  g_autoptr (GString) line = g_string_new ("{\"a\": ");
  sw_json_append_string (line, text);
  g_string_append_c (line, '}');
  g_autoptr (GHashTable) object = sw_json_line_parse (line->str, line->len, NULL);
  assert_non_null (object);
  assert_string_equal (((SwJsonValue *)g_hash_table_lookup (object, "a"))->text, text);
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    {
      g_autoptr (GString) one = g_string_new ("{\"a\": ");
      sw_json_append_double (one, numbers[i]);
      g_string_append_c (one, '}');
      g_autoptr (GHashTable) back = sw_json_line_parse (one->str, one->len, NULL);
      assert_non_null (back);
      const SwJsonValue *value = g_hash_table_lookup (back, "a");
      double number = value->kind == SW_JSON_INT ? (double)value->integer : value->number;
      assert_memory_equal (&number, &numbers[i], sizeof number);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_good);
  SW_TEST (tests, test_bad);
  SW_TEST (tests, test_there_and_back);
  return sw_tests_run (tests, "json line");
}
