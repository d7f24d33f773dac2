/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window of a weigh ticket; its rows go the way of the money table, which adds up and refuses.
 */
#include "app/docket-form.h"

#include "app/clock.h"
#include "app/text.h"
#include "app/typed-day.h"
#include "app/widgets.h"
#include "core/base/text.h"
#include "core/catalogue/items.h"
#include "core/trade/slip.h"

/* Lines of one docket at most. */
#define MOST_LINES 24

typedef struct
{
  GtkWidget *class, *net, *rate, *amount, *of, *name, *place;
  GPtrArray *checks; /* GtkWidget, one an item; owned by the popover */
} Line;

typedef struct
{
  SwStore *store;
  GPtrArray *items; /* SwItem */
  GtkWidget *dialog, *yard, *ref, *day, *gross, *tare, *charged, *lines, *problem, *more;
  Line line[MOST_LINES];
  guint n;
  gboolean sent;
} Form;

#define FORM "sw-docket-form"

static void
form_free (gpointer data)
{
  Form *form = data;

  for (guint i = 0; i < form->n; i++)
    g_ptr_array_unref (form->line[i].checks);
  g_ptr_array_unref (form->items);
  g_object_unref (form->store);
  g_free (form);
}

static void
say (Form *form, const char *sentence)
{
  gtk_label_set_text (GTK_LABEL (form->problem), sentence);
  gtk_widget_show (form->problem);
  g_signal_emit_by_name (gtk_widget_get_accessible (form->problem), "announcement", sentence);
}

/* ---- on the catalogue thread ---- */

typedef struct
{
  char *class, *net, *rate, *amount, *items, *place;
} Row;

typedef struct
{
  char *yard, *ref, *day, *gross, *tare, *charged;
  SwInstant now;
  GArray *rows; /* Row */
} Docket;

static void
row_clear (gpointer data)
{
  Row *row = data;

  g_free (row->class);
  g_free (row->net);
  g_free (row->rate);
  g_free (row->amount);
  g_free (row->items);
  g_free (row->place);
}

static void
docket_free (gpointer data)
{
  Docket *docket = data;

  g_free (docket->yard);
  g_free (docket->ref);
  g_free (docket->day);
  g_free (docket->gross);
  g_free (docket->tare);
  g_free (docket->charged);
  g_array_unref (docket->rows);
  g_free (docket);
}

static void
add_cell (SwSlip *slip, SwColumn column, const char *text)
{
  sw_slip_text (slip, column, *text != '\0' ? text : NULL);
}

static void
add_row (SwSlip *slip, const Docket *docket, const Row *row)
{
  sw_slip_row (slip, SW_ROW_DOCKET_LINE);
  add_cell (slip, SW_COLUMN_REF, docket->ref);
  add_cell (slip, SW_COLUMN_CLASS, row->class);
  add_cell (slip, SW_COLUMN_NET, row->net);
  add_cell (slip, SW_COLUMN_RATE, row->rate);
  add_cell (slip, SW_COLUMN_AMOUNT, row->amount);
  add_cell (slip, SW_COLUMN_ITEM, row->items);
  add_cell (slip, SW_COLUMN_PLACE, row->place);
}

/* The docket's own day, or today. */
static gboolean
add_day (SwSlip *slip, SwCatalogue *catalogue, const Docket *docket, GError **error)
{
  return sw_typed_day_into (slip, SW_COLUMN_AT, catalogue, docket->day, docket->now, error);
}

/* What the yard took off for taking something: a fee by the money table. */
static gboolean
add_charge (SwSlip *slip, SwCatalogue *catalogue, const Docket *docket, GError **error)
{
  if (*docket->charged == '\0')
    return TRUE;
  sw_slip_row (slip, SW_ROW_FEE);
  add_cell (slip, SW_COLUMN_REF, docket->ref);
  add_cell (slip, SW_COLUMN_CHARGE, "disposal");
  add_cell (slip, SW_COLUMN_AMOUNT, docket->charged);
  return add_day (slip, catalogue, docket, error);
}

static gboolean
run_docket (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Docket *docket = data;
  g_autoptr (SwSlip) slip = sw_slip_new (catalogue);
  g_autofree char *sentence = g_strdup_printf (_ ("Docket %s of %s"), docket->ref, docket->yard);

  sw_slip_row (slip, SW_ROW_DOCKET);
  add_cell (slip, SW_COLUMN_REF, docket->ref);
  add_cell (slip, SW_COLUMN_OUTLET, docket->yard);
  if (!add_day (slip, catalogue, docket, error))
    return FALSE;
  add_cell (slip, SW_COLUMN_GROSS, docket->gross);
  add_cell (slip, SW_COLUMN_TARE, docket->tare);
  for (guint i = 0; i < docket->rows->len; i++)
    add_row (slip, docket, &g_array_index (docket->rows, Row, i));
  return add_charge (slip, catalogue, docket, error) && sw_slip_book (slip, sentence, NULL, error);
}

/* ---- what was typed ---- */

static char *
typed (GtkWidget *entry)
{
  return sw_text_tidy (gtk_entry_get_text (GTK_ENTRY (entry)));
}

/* Money as the table writes it; NULL with an error where it cannot be read. */
static char *
typed_money (Form *form, GtkWidget *entry, GError **error)
{
  g_autofree char *text = typed (entry);
  SwMoney amount;

  if (*text == '\0')
    return g_steal_pointer (&text);
  if (sw_store_parse_money (form->store, text, &amount, error))
    return sw_money_to_plain (amount, sw_store_overview (form->store)->currency);
  gtk_widget_grab_focus (entry);
  return NULL;
}

/* "3 + 7": numbers of the ticked ones, as the money table names several. */
static char *
ticked (const Form *form, const Line *line)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < line->checks->len; i++)
    if (gtk_toggle_button_get_active (g_ptr_array_index (line->checks, i)))
      g_string_append_printf (text, "%s%" G_GINT64_FORMAT, text->len > 0 ? " + " : "",
                              ((const SwItem *)g_ptr_array_index (form->items, i))->id);
  return g_string_free (text, FALSE);
}

static gboolean
is_blank (const Line *line)
{
  g_autofree char *net = typed (line->net), *rate = typed (line->rate),
                  *amount = typed (line->amount);
  return *net == '\0' && *rate == '\0' && *amount == '\0';
}

static gboolean
add_typed_row (Form *form, const Line *line, GArray *rows, GError **error)
{
  Row row = { .rate = typed_money (form, line->rate, error) };

  if (row.rate == NULL)
    return FALSE;
  row.amount = typed_money (form, line->amount, error);
  row.class = typed (line->class);
  row.net = typed (line->net);
  row.items = ticked (form, line);
  row.place = typed (line->place);
  if (row.amount == NULL)
    {
      row_clear (&row);
      return FALSE;
    }
  if (*row.items != '\0') /* of things: where they were found is known */
    *row.place = '\0';
  g_array_append_val (rows, row);
  return TRUE;
}

static gboolean
add_typed_rows (Form *form, GArray *rows, GError **error)
{
  for (guint i = 0; i < form->n; i++)
    if (!is_blank (&form->line[i]) && !add_typed_row (form, &form->line[i], rows, error))
      return FALSE;
  return TRUE;
}

static Docket *
docket_of (Form *form, GError **error)
{
  Docket *docket = g_new0 (Docket, 1);
  g_autofree char *yard = gtk_combo_box_text_get_active_text (GTK_COMBO_BOX_TEXT (form->yard));

  docket->yard = g_strdup (yard != NULL ? yard : "");
  docket->ref = typed (form->ref);
  docket->day = typed (form->day);
  docket->gross = typed (form->gross);
  docket->tare = typed (form->tare);
  docket->charged = typed_money (form, form->charged, error);
  docket->now = sw_clock_now ();
  docket->rows = g_array_new (FALSE, TRUE, sizeof (Row));
  g_array_set_clear_func (docket->rows, row_clear);
  if (docket->charged != NULL && add_typed_rows (form, docket->rows, error))
    return docket;
  docket_free (docket);
  return NULL;
}

static void
on_tried (gpointer dialog, const char *problem)
{
  Form *form = g_object_get_data (dialog, FORM);

  form->sent = FALSE;
  if (problem == NULL)
    gtk_widget_destroy (GTK_WIDGET (dialog));
  else
    say (form, problem);
}

static void
on_response (GtkDialog *dialog, int response, Form *form)
{
  g_autoptr (GError) error = NULL;
  Docket *docket;

  if (response != GTK_RESPONSE_ACCEPT)
    {
      gtk_widget_destroy (GTK_WIDGET (dialog));
      return;
    }
  if (form->sent)
    return;
  gtk_widget_hide (form->problem);
  docket = docket_of (form, &error);
  if (docket == NULL)
    {
      say (form, error->message);
      return;
    }
  form->sent = TRUE;
  sw_store_try (form->store, run_docket, docket, docket_free, G_OBJECT (dialog), on_tried);
}

/* ---- lines ---- */

#define LINE "sw-line"

static void
name_line (GtkWidget *check, Form *form)
{
  const Line *line = &form->line[GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (check), LINE))];
  guint n = 0, last = 0;
  g_autofree char *count = NULL;

  for (guint i = 0; i < line->checks->len; i++)
    if (gtk_toggle_button_get_active (g_ptr_array_index (line->checks, i)))
      {
        n++;
        last = i;
      }
  count = n > 1 ? sw_text_count (n, "%d thing", "%d things") : NULL;
  gtk_label_set_text (GTK_LABEL (line->name),
                      n == 0   ? _ ("loose")
                      : n == 1 ? ((const SwItem *)g_ptr_array_index (form->items, last))->name
                               : count);
  gtk_widget_set_sensitive (line->place, n == 0);
}

static GtkWidget *
checks_new (Form *form, Line *line, const char *class)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  line->checks = g_ptr_array_new ();
  for (guint i = 0; i < form->items->len; i++)
    {
      const SwItem *item = g_ptr_array_index (form->items, i);
      GtkWidget *check = gtk_check_button_new_with_label (item->name);
      gboolean of_class = class != NULL && g_strcmp0 (item->scrap_class, class) == 0;

      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (check), of_class);
      g_object_set_data (G_OBJECT (check), LINE, GUINT_TO_POINTER (form->n));
      g_ptr_array_add (line->checks, check);
      g_signal_connect (check, "toggled", G_CALLBACK (name_line), form);
      gtk_container_add (GTK_CONTAINER (box), check);
    }
  return box;
}

static GtkWidget *
popover_new (Form *form, Line *line, const char *class)
{
  GtkWidget *popover = gtk_popover_new (NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *scrolled = gtk_scrolled_window_new (NULL, NULL);

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), 220);
  gtk_container_add (GTK_CONTAINER (scrolled), checks_new (form, line, class));
  line->place = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (line->place), _ ("loose scrap: from which place"));
  atk_object_set_name (gtk_widget_get_accessible (line->place), _ ("Place of the loose scrap"));
  gtk_container_set_border_width (GTK_CONTAINER (box), 12);
  gtk_container_add (GTK_CONTAINER (box), scrolled);
  gtk_container_add (GTK_CONTAINER (box), line->place);
  gtk_container_add (GTK_CONTAINER (popover), box);
  gtk_widget_show_all (box);
  return popover;
}

static GtkWidget *
cell_new (Form *form, const char *name, int chars, int column)
{
  g_autofree char *spoken = g_strdup_printf (_ ("%s, line %u"), name, form->n + 1);
  GtkWidget *entry = gtk_entry_new ();

  gtk_entry_set_width_chars (GTK_ENTRY (entry), chars);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  gtk_widget_set_hexpand (entry, column == 0);
  if (column > 0)
    gtk_entry_set_alignment (GTK_ENTRY (entry), 1);
  atk_object_set_name (gtk_widget_get_accessible (entry), spoken);
  gtk_grid_attach (GTK_GRID (form->lines), entry, column, (int)form->n + 1, 1, 1);
  return entry;
}

static void
add_line (Form *form, const char *class)
{
  Line *line = &form->line[form->n];
  g_autofree char *spoken = g_strdup_printf (_ ("Of what, line %u"), form->n + 1);

  line->class = cell_new (form, _ ("Class"), 9, 0);
  line->net = cell_new (form, _ ("Net"), 6, 1);
  line->rate = cell_new (form, _ ("Rate"), 6, 2);
  line->amount = cell_new (form, _ ("Money"), 6, 3);
  gtk_entry_set_text (GTK_ENTRY (line->class), class != NULL ? class : "");
  line->of = gtk_menu_button_new ();
  atk_object_set_name (gtk_widget_get_accessible (line->of), spoken);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (line->of), popover_new (form, line, class));
  line->name = gtk_label_new (_ ("loose"));
  gtk_label_set_ellipsize (GTK_LABEL (line->name), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (line->name), 9);
  gtk_container_remove (GTK_CONTAINER (line->of), gtk_bin_get_child (GTK_BIN (line->of)));
  gtk_container_add (GTK_CONTAINER (line->of), line->name);
  gtk_grid_attach (GTK_GRID (form->lines), line->of, 4, (int)form->n + 1, 1, 1);
  form->n++;
  if (line->checks->len > 0)
    name_line (g_ptr_array_index (line->checks, 0), form);
  gtk_widget_show_all (form->lines);
  gtk_widget_set_sensitive (form->more, form->n < MOST_LINES);
}

static void
on_more (Form *form)
{
  add_line (form, NULL);
  gtk_widget_grab_focus (form->line[form->n - 1].class);
}

/* One a class among what is marked; one empty where nothing has a class. */
static void
begin_lines (Form *form)
{
  g_autoptr (GHashTable) begun = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < form->items->len && form->n < MOST_LINES; i++)
    {
      const SwItem *item = g_ptr_array_index (form->items, i);
      if (item->scrap_class != NULL && g_hash_table_add (begun, item->scrap_class))
        add_line (form, item->scrap_class);
    }
  if (form->n == 0)
    add_line (form, NULL);
}

/* ---- the window ---- */

static GtkWidget *
attach_entry (GtkWidget *grid, const char *text, const char *hint, int column, int row)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (text), *entry = gtk_entry_new ();

  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), hint);
  gtk_entry_set_width_chars (GTK_ENTRY (entry), 9);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), entry);
  gtk_grid_attach (GTK_GRID (grid), label, column, row, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), entry, column + 1, row, 1, 1);
  return entry;
}

static GtkWidget *
head_new (Form *form, const char *const *yards)
{
  GtkWidget *grid = gtk_grid_new (), *label = gtk_label_new_with_mnemonic (_ ("_Yard"));

  gtk_grid_set_row_spacing (GTK_GRID (grid), 8);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  form->yard = gtk_combo_box_text_new ();
  for (; *yards != NULL; yards++)
    gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (form->yard), *yards);
  gtk_combo_box_set_active (GTK_COMBO_BOX (form->yard), 0);
  sw_combo_ellipsize (form->yard);
  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), form->yard);
  atk_object_set_name (gtk_widget_get_accessible (form->yard),
                       gtk_label_get_text (GTK_LABEL (label)));
  gtk_grid_attach (GTK_GRID (grid), label, 0, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), form->yard, 1, 0, 1, 1);
  form->ref = attach_entry (grid, _ ("Docket _number"), _ ("as printed"), 2, 0);
  form->gross = attach_entry (grid, _ ("_Gross, kg"), NULL, 0, 1);
  form->tare = attach_entry (grid, _ ("_Tare, kg"), NULL, 2, 1);
  form->day = attach_entry (grid, _ ("On _day"), _ (SW_DAY_HINT_TODAY), 0, 2);
  form->charged = attach_entry (grid, _ ("C_harged"), _ ("for disposal"), 2, 2);
  return grid;
}

static void
add_heads (Form *form)
{
  static const char *const heads[]
      = { N_ ("Class"), N_ ("Net, kg"), N_ ("Rate a tonne"), N_ ("Money"), N_ ("Of") };

  for (int i = 0; i < (int)G_N_ELEMENTS (heads); i++)
    {
      GtkWidget *label = gtk_label_new (_ (heads[i]));
      gtk_label_set_xalign (GTK_LABEL (label), i == 0 || i == 4 ? 0 : 1);
      gtk_style_context_add_class (gtk_widget_get_style_context (label), "dim-label");
      gtk_grid_attach (GTK_GRID (form->lines), label, i, 0, 1, 1);
    }
}

static GtkWidget *
lines_new (Form *form)
{
  GtkWidget *scrolled = gtk_scrolled_window_new (NULL, NULL);

  form->lines = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (form->lines), 6);
  gtk_grid_set_column_spacing (GTK_GRID (form->lines), 8);
  add_heads (form);
  gtk_container_add (GTK_CONTAINER (scrolled), form->lines);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), 240);
  return scrolled;
}

/* What a window's edges take of a screen's width. */
#define BESIDE 24

/* A docket's columns do not go one below the other: where letters are large and the screen is
 * narrow they are moved sideways, and the field that has the keyboard comes into view. */
static GtkWidget *
within_screen (GtkWidget *box, GtkWidget *parent)
{
  GdkRectangle screen;

  gdk_monitor_get_workarea (gdk_display_get_monitor_at_window (gtk_widget_get_display (parent),
                                                               gtk_widget_get_window (parent)),
                            &screen);
  return sw_scrolled_new (box, GTK_ORIENTATION_HORIZONTAL, MAX (screen.width - BESIDE, 320));
}

static void
fill (Form *form, const char *const *yards, GtkWindow *parent)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  gtk_container_set_border_width (GTK_CONTAINER (box), 18);
  gtk_box_pack_start (GTK_BOX (box), head_new (form, yards), FALSE, FALSE, 0);
  gtk_box_pack_start (GTK_BOX (box), lines_new (form), TRUE, TRUE, 0);
  form->more = gtk_button_new_with_mnemonic (_ ("_Add a line"));
  gtk_widget_set_halign (form->more, GTK_ALIGN_START);
  g_signal_connect_swapped (form->more, "clicked", G_CALLBACK (on_more), form);
  gtk_container_add (GTK_CONTAINER (box), form->more);
  gtk_label_set_max_width_chars (
      GTK_LABEL (sw_container_add_line (
          box,
          _ ("Money may stay empty: it is the net by the rate. Leave out what the yard refused; it "
             "stays marked. What it took as another class gets that class. What it took only "
             "against money has the rate 0; the money goes under Charged."),
          "dim-label")),
      56);
  form->problem = sw_container_add_line (box, "", "sw-problem");
  gtk_label_set_max_width_chars (GTK_LABEL (form->problem), 56);
  gtk_widget_set_no_show_all (form->problem, TRUE);
  gtk_widget_hide (form->problem);
  gtk_box_pack_start (GTK_BOX (gtk_dialog_get_content_area (GTK_DIALOG (form->dialog))),
                      within_screen (box, GTK_WIDGET (parent)), TRUE, TRUE, 0);
  begin_lines (form);
}

void
sw_docket_form_show (GtkWindow *parent, SwStore *store, const char *const *yards, GPtrArray *items)
{
  Form *form = g_new0 (Form, 1);

  form->store = g_object_ref (store);
  form->items = g_ptr_array_ref (items);
  form->dialog = gtk_dialog_new_with_buttons (
      _ ("Docket of a yard"), parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, _ ("_Book"), GTK_RESPONSE_ACCEPT, NULL);
  gtk_dialog_set_default_response (GTK_DIALOG (form->dialog), GTK_RESPONSE_ACCEPT);
  g_object_set_data_full (G_OBJECT (form->dialog), FORM, form, form_free);
  fill (form, yards, parent);
  g_signal_connect (form->dialog, "response", G_CALLBACK (on_response), form);
  gtk_widget_show_all (form->dialog);
  gtk_widget_grab_focus (form->ref);
}
