/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A tree of two levels as on the page before the trip. A key ticks the chosen line and goes on to
 * the next open one at once, so that a whole sheet goes in as fast as the keys are pressed; what
 * was sent and has not come back yet is shown as ticked. */
#include "app/tick-view.h"

#include "app/docket-form.h"
#include "app/side-box.h"
#include "app/text.h"
#include "app/tick-acts.h"
#include "app/tick-read.h"
#include "app/widgets.h"

struct _SwTickView
{
  GtkBox parent;
  SwStore *store; /* NULL until it was opened */
  GtkWidget *heading, *summary, *cash, *docket, *back, *table, *words, *buttons, *ask, *ask_label,
      *ask_entry;
  GtkWidget *of_tick[SW_N_TICKS];
  SwTickSheet *sheet;
  GPtrArray *to_scrap; /* SwItem that wait for their docket */
  GStrv yards;
  GHashTable *sent; /* numbers of lines that are being ticked */
  guint n_sent;     /* acts that have not come back */
  GCancellable *cancellable;
  gboolean filling;
  int chosen;   /* number of the line; 0: none */
  int asking;   /* SwTick that needs a word more, COUNTS_CASH or ASKS_NOTHING */
  int asked_of; /* number of that line */
};

#define ASKS_NOTHING -1
#define COUNTS_CASH SW_N_TICKS

G_DEFINE_TYPE (SwTickView, sw_tick_view, GTK_TYPE_BOX)

enum
{
  SIGN,
  NUMBER,
  WHAT,
  DETAIL,
  WHERE,
  LINE, /* SwTickLine of the sheet; NULL: a part */
  WEIGHT,
  N_COLUMNS
};

enum
{
  CLOSED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

/* X (tick, key, label). */
static const struct
{
  guint key;
  const char *label;
} keys[SW_N_TICKS] = {
  [SW_TICK_HANDED_OVER] = { GDK_KEY_h, N_ ("Handed over (H)") },
  [SW_TICK_LOADED] = { GDK_KEY_l, N_ ("Brought home (L)") },
  [SW_TICK_SCRAPPED] = { GDK_KEY_s, N_ ("Scrapped (S)") },
  [SW_TICK_DONE] = { GDK_KEY_d, N_ ("Done (D)") },
  [SW_TICK_NOT_FOUND] = { GDK_KEY_n, N_ ("Not found (N)") },
  [SW_TICK_BROKEN] = { GDK_KEY_b, N_ ("Broken… (B)") },
};

/* ---- rows ---- */

static gboolean
is_sent (SwTickView *self, const SwTickLine *line)
{
  return g_hash_table_contains (self->sent, GINT_TO_POINTER (line->row.number));
}

static char *
sign_of (SwTickView *self, const SwTickLine *line)
{
  const char *word = is_sent (self, line)     ? _ ("ticked")
                     : line->row.tick != NULL ? _ (line->row.tick)
                     : line->settled          ? line->state != NULL ? _ (line->state) : _ ("done")
                                              : NULL;

  return word != NULL ? g_strdup_printf ("\xE2\x98\x91 %s", word)
                      : g_strdup_printf ("\xE2\x98\x90 %s", _ ("open"));
}

static char *
detail_of (SwTickView *self, const SwTickLine *line)
{
  GString *text = g_string_new (line->who);
  gboolean over = g_strcmp0 (line->row.tick, sw_tick_word (SW_TICK_HANDED_OVER)) == 0;

  if (line->row.due.minor > 0 && line->part == SW_TRIP_HAND_OVER)
    {
      g_autofree char *due = sw_store_money_with_code (self->store, line->row.due);
      g_autofree char *taken = sw_store_money (self->store, line->row.taken);

      g_string_append (text, text->len > 0 ? ", " : "");
      if (over)
        g_string_append_printf (text, _ ("%s taken of %s due"), taken, due);
      else
        g_string_append_printf (text, _ ("%s due"), due);
    }
  if (line->row.broken)
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", _ ("broken"));
  return g_string_free (text, FALSE);
}

static void
add_line (SwTickView *self, GtkTreeStore *rows, GtkTreeIter *head, SwTickLine *line)
{
  g_autofree char *sign = sign_of (self, line), *detail = detail_of (self, line);
  g_autofree char *number = g_strdup_printf ("%d", line->row.number);

  gtk_tree_store_insert_with_values (
      rows, NULL, head, -1, SIGN, sign, NUMBER, number, WHAT, line->what, DETAIL, detail, WHERE,
      line->place != NULL ? line->place : "", LINE, line, WEIGHT, PANGO_WEIGHT_NORMAL, -1);
}

static void
add_part (SwTickView *self, GtkTreeStore *rows, SwTripPart part)
{
  GtkTreeIter head;
  gboolean any = FALSE;

  for (guint i = 0; i < self->sheet->lines->len; i++)
    {
      SwTickLine *line = g_ptr_array_index (self->sheet->lines, i);

      if (line->part != part)
        continue;
      if (!any)
        gtk_tree_store_insert_with_values (rows, &head, NULL, -1, SIGN, "", NUMBER, "", WHAT,
                                           _ (sw_trip_part_heading (part)), DETAIL, "", WHERE, "",
                                           WEIGHT, PANGO_WEIGHT_BOLD, -1);
      any = TRUE;
      add_line (self, rows, &head, line);
    }
}

/* ---- over the rows ---- */

static void
add_cash_words (SwTickView *self, GString *text)
{
  const SwTickSheet *sheet = self->sheet;
  g_autofree char *due = sw_store_money_with_code (self->store, sheet->due);
  g_autofree char *taken = sw_store_money_with_code (self->store, sheet->taken);
  g_autofree char *counted = sw_store_money_with_code (self->store, sheet->counted);
  gint64 more = sheet->counted.minor - sheet->taken.minor;
  g_autofree char *off = sw_store_money_with_code (self->store, sw_money (ABS (more)));

  if (sheet->due.minor > 0 || sheet->taken.minor > 0)
    g_string_append_printf (text, _ ("Taken %s of %s due. "), taken, due);
  if (sheet->has_counted && more == 0)
    g_string_append_printf (text, _ ("The cash box holds just that. "));
  else if (sheet->has_counted)
    g_string_append_printf (text,
                            more > 0 ? _ ("The cash box holds %s: %s more than was taken. ")
                                     : _ ("The cash box holds %s: %s less than was taken. "),
                            counted, off);
}

static void
show_summary (SwTickView *self)
{
  const SwTickSheet *sheet = self->sheet;
  g_autofree char *days = sw_text_days (sheet->trip->first, sheet->trip->last);
  g_autofree char *heading = g_strdup_printf (_ ("Back from %s, %s"), sheet->trip->title, days);
  g_autoptr (GString) text = g_string_new (NULL);

  if (sheet->lines->len == 0)
    g_string_append (text, _ ("Nothing was to do on this trip. "));
  else if (sheet->open == 0)
    g_string_append (text, _ ("Every line is seen to. "));
  else
    g_string_append_printf (text, _ ("%u of %u lines are open. "), sheet->open, sheet->lines->len);
  add_cash_words (self, text);
  if (sheet->dockets > 0)
    g_string_append (text, _ ("The yard’s docket is still to be entered. "));
  gtk_label_set_text (GTK_LABEL (self->heading), heading);
  gtk_label_set_text (GTK_LABEL (self->summary), g_strchomp (text->str));
  gtk_widget_set_visible (self->docket, sheet->dockets > 0);
}

/* ---- the chosen line ---- */

static GtkTreeModel *
model_of (SwTickView *self)
{
  return gtk_tree_view_get_model (GTK_TREE_VIEW (self->table));
}

static SwTickLine *
get_chosen (SwTickView *self)
{
  GtkTreeModel *model;
  GtkTreeIter iter;
  SwTickLine *line = NULL;

  if (gtk_tree_selection_get_selected (gtk_tree_view_get_selection (GTK_TREE_VIEW (self->table)),
                                       &model, &iter))
    gtk_tree_model_get (model, &iter, LINE, &line, -1);
  return line;
}

static gboolean
may_tick (SwTickView *self, const SwTickLine *line, SwTick tick)
{
  return line != NULL && (line->may & (1u << tick)) != 0 && !is_sent (self, line)
         && (!line->settled || tick == SW_TICK_BROKEN);
}

static void
show_chosen (SwTickView *self)
{
  SwTickLine *line;
  g_autofree char *detail = NULL, *words = NULL;

  if (self->filling)
    return;
  line = get_chosen (self);
  if (line != NULL)
    {
      self->chosen = line->row.number;
      detail = detail_of (self, line);
      words = g_strdup_printf ("%d  %s%s%s", line->row.number, line->what,
                               *detail != '\0' ? ": " : "", detail);
    }
  gtk_label_set_text (GTK_LABEL (self->words),
                      words != NULL ? words
                                    : _ ("Choose a line and say with one key what became of "
                                         "it."));
  for (int tick = 0; tick < SW_N_TICKS; tick++)
    {
      gtk_widget_set_visible (self->of_tick[tick], line != NULL && (line->may & (1u << tick)) != 0);
      gtk_widget_set_sensitive (self->of_tick[tick],
                                may_tick (self, line, (SwTick)tick)
                                    && !sw_store_overview (self->store)->read_only);
    }
}

/* The rows from the one of that number on, then from the first: of these the first open one. */
typedef struct
{
  SwTickView *self;
  int after;
  GtkTreePath *later, *earlier;
} Search;

static gboolean
look_for_open (GtkTreeModel *model, GtkTreePath *path, GtkTreeIter *iter, gpointer data)
{
  Search *search = data;
  SwTickLine *line;
  GtkTreePath **found;

  gtk_tree_model_get (model, iter, LINE, &line, -1);
  if (line == NULL || line->settled || is_sent (search->self, line))
    return FALSE;
  found = line->row.number > search->after ? &search->later : &search->earlier;
  if (*found == NULL)
    *found = gtk_tree_path_copy (path);
  return search->later != NULL;
}

static void
choose_open (SwTickView *self, int after)
{
  Search search = { self, after, NULL, NULL };
  GtkTreePath *path;

  gtk_tree_model_foreach (model_of (self), look_for_open, &search);
  path = search.later != NULL ? search.later : search.earlier;
  if (path != NULL)
    gtk_tree_view_set_cursor (GTK_TREE_VIEW (self->table), path, NULL, FALSE);
  gtk_tree_path_free (search.later);
  gtk_tree_path_free (search.earlier);
}

static gboolean
choose_again (GtkTreeModel *model, GtkTreePath *path, GtkTreeIter *iter, gpointer data)
{
  SwTickView *self = data;
  SwTickLine *line;

  gtk_tree_model_get (model, iter, LINE, &line, -1);
  if (line == NULL || line->row.number != self->chosen)
    return FALSE;
  gtk_tree_view_set_cursor (GTK_TREE_VIEW (self->table), path, NULL, FALSE);
  return TRUE;
}

static void
show_rows (SwTickView *self)
{
  GtkTreeStore *rows = GTK_TREE_STORE (model_of (self));

  for (int part = 0; part < SW_N_TRIP_PARTS; part++)
    add_part (self, rows, (SwTripPart)part);
  gtk_tree_view_expand_all (GTK_TREE_VIEW (self->table));
  if (self->chosen != 0)
    gtk_tree_model_foreach (GTK_TREE_MODEL (rows), choose_again, self);
  if (get_chosen (self) == NULL)
    choose_open (self, 0);
  self->filling = FALSE;
  show_chosen (self);
}

/* ---- reading ---- */

static void
on_sheet (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwTickView) self = data;
  SwTickRead *read;

  if (self->store == NULL)
    return;
  read = sw_store_finish (self->store, result, NULL);
  if (read == NULL)
    return; /* a later one is on its way, or the catalogue is closed */
  self->filling = TRUE;
  gtk_tree_store_clear (GTK_TREE_STORE (model_of (self)));
  g_clear_pointer (&self->sheet, sw_tick_sheet_free);
  g_clear_pointer (&self->to_scrap, g_ptr_array_unref);
  g_clear_pointer (&self->yards, g_strfreev);
  self->sheet = g_steal_pointer (&read->sheet);
  self->to_scrap = g_steal_pointer (&read->to_scrap);
  self->yards = g_steal_pointer (&read->yards);
  sw_tick_read_free (read);
  show_summary (self);
  show_rows (self);
}

static void
load (SwTickView *self)
{
  if (self->store == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  sw_store_read (self->store, SW_RANK_VISIBLE, sw_tick_read, NULL, NULL, sw_tick_read_free,
                 self->cancellable, on_sheet, g_object_ref (self));
}

/* ---- ticking ---- */

static gboolean
show_sign (GtkTreeModel *model, GtkTreePath *path, GtkTreeIter *iter, gpointer data)
{
  SwTickView *self = data;
  SwTickLine *line;
  g_autofree char *sign = NULL;

  gtk_tree_model_get (model, iter, LINE, &line, -1);
  if (line == NULL)
    return FALSE;
  sign = sign_of (self, line);
  gtk_tree_store_set (GTK_TREE_STORE (model), iter, SIGN, sign, -1);
  return FALSE;
}

static void
on_ticked (gpointer owner, gboolean done)
{
  SwTickView *self = SW_TICK_VIEW (owner);

  if (--self->n_sent > 0)
    return;
  g_hash_table_remove_all (self->sent);
  load (self); /* a refusal changes nothing, but the line is open again */
}

static void
send_tick (SwTickView *self, const SwTickLine *line, SwTick tick, const SwMoney *taken,
           const char *text)
{
  const SwTickSaid said = { .trip = self->sheet->trip->id,
                            .number = line->row.number,
                            .subject = line->row.subject,
                            .item = line->row.item,
                            .tick = tick,
                            .taken = taken,
                            .text = text };

  if (tick != SW_TICK_BROKEN)
    g_hash_table_add (self->sent, GINT_TO_POINTER (line->row.number));
  self->n_sent++;
  sw_tick_act (self->store, &said, G_OBJECT (self), on_ticked);
  gtk_tree_model_foreach (model_of (self), show_sign, self);
  if (tick != SW_TICK_BROKEN)
    choose_open (self, line->row.number);
  show_chosen (self);
}

static void
end_ask (SwTickView *self)
{
  self->asking = ASKS_NOTHING;
  gtk_widget_hide (self->ask);
  gtk_widget_show (self->buttons);
  gtk_widget_grab_focus (self->table);
}

static void
begin_ask (SwTickView *self, int asking, const char *label, const char *text)
{
  const SwTickLine *line = get_chosen (self);

  self->asking = asking;
  self->asked_of = line != NULL ? line->row.number : 0;
  gtk_label_set_text (GTK_LABEL (self->ask_label), label);
  gtk_entry_set_text (GTK_ENTRY (self->ask_entry), text);
  gtk_widget_hide (self->buttons);
  gtk_widget_show (self->ask);
  gtk_widget_grab_focus (self->ask_entry);
}

static void
tick (SwTickView *self, SwTick tick)
{
  const SwTickLine *line = get_chosen (self);

  if (!may_tick (self, line, tick) || sw_store_overview (self->store)->read_only)
    return;
  if (tick == SW_TICK_HANDED_OVER && line->row.due.minor > 0)
    {
      g_autofree char *due = sw_store_money (self->store, line->row.due);
      g_autofree char *label = g_strdup_printf (_ ("Taken in cash, of %s due:"), due);
      begin_ask (self, tick, label, due);
    }
  else if (tick == SW_TICK_BROKEN)
    begin_ask (self, tick, _ ("What is broken:"), "");
  else if (tick == SW_TICK_DONE && line->part == SW_TRIP_ASK)
    begin_ask (self, tick, _ ("The answer:"), "");
  else
    send_tick (self, line, tick, NULL, NULL);
}

static const SwTickLine *
asked_line (SwTickView *self)
{
  for (guint i = 0; i < self->sheet->lines->len; i++)
    {
      const SwTickLine *line = g_ptr_array_index (self->sheet->lines, i);

      if (line->row.number == self->asked_of)
        return line;
    }
  return NULL;
}

static void
on_answer (SwTickView *self)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_entry_get_text (GTK_ENTRY (self->ask_entry))));
  gboolean is_money = self->asking == COUNTS_CASH || self->asking == SW_TICK_HANDED_OVER;
  int asking = self->asking;
  const SwTickLine *line = asked_line (self);
  g_autoptr (GError) error = NULL;
  SwMoney money = SW_MONEY_ZERO;

  if (is_money && !sw_store_parse_money (self->store, text, &money, &error))
    {
      sw_store_tell (self->store, error->message, TRUE);
      return;
    }
  if (!is_money && *text == '\0')
    return;
  end_ask (self);
  if (asking == COUNTS_CASH)
    sw_tick_act_counted (self->store, self->sheet->trip->id, money);
  else if (line != NULL)
    send_tick (self, line, (SwTick)asking, is_money ? &money : NULL, text);
}

static gboolean
on_ask_key (GtkWidget *entry, GdkEventKey *event, SwTickView *self)
{
  if (event->keyval != GDK_KEY_Escape)
    return GDK_EVENT_PROPAGATE;
  end_ask (self);
  return GDK_EVENT_STOP;
}

static void
on_cash (SwTickView *self)
{
  if (self->sheet != NULL && !sw_store_overview (self->store)->read_only)
    begin_ask (self, COUNTS_CASH, _ ("Counted in the cash box:"), "");
}

static void
on_docket (SwTickView *self)
{
  if (self->sheet != NULL && self->to_scrap->len > 0)
    sw_docket_form_show (GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self))), self->store,
                         (const char *const *)self->yards, self->to_scrap);
}

static void
on_back (SwTickView *self)
{
  g_signal_emit (self, signals[CLOSED], 0);
}

static void
on_tick_button (GtkWidget *button, SwTickView *self)
{
  for (int i = 0; i < SW_N_TICKS; i++)
    if (self->of_tick[i] == button)
      tick (self, (SwTick)i);
}

static gboolean
on_key (GtkWidget *table, GdkEventKey *event, SwTickView *self)
{
  guint key = gdk_keyval_to_lower (event->keyval);

  if ((event->state & gtk_accelerator_get_default_mod_mask () & ~GDK_SHIFT_MASK) != 0)
    return GDK_EVENT_PROPAGATE;
  if (key == GDK_KEY_Escape)
    {
      on_back (self);
      return GDK_EVENT_STOP;
    }
  if (key == GDK_KEY_c)
    {
      on_cash (self);
      return GDK_EVENT_STOP;
    }
  for (int i = 0; i < SW_N_TICKS; i++)
    if (keys[i].key == key && self->sheet != NULL)
      {
        tick (self, (SwTick)i);
        return GDK_EVENT_STOP;
      }
  return GDK_EVENT_PROPAGATE;
}

/* ---- object ---- */

static void
sw_tick_view_map (GtkWidget *widget)
{
  SwTickView *self = SW_TICK_VIEW (widget);

  GTK_WIDGET_CLASS (sw_tick_view_parent_class)->map (widget);
  load (self);
  gtk_widget_grab_focus (self->table);
}

static void
sw_tick_view_dispose (GObject *object)
{
  SwTickView *self = SW_TICK_VIEW (object);

  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->store);
  g_clear_pointer (&self->sheet, sw_tick_sheet_free);
  g_clear_pointer (&self->to_scrap, g_ptr_array_unref);
  g_clear_pointer (&self->yards, g_strfreev);
  g_clear_pointer (&self->sent, g_hash_table_unref);
  G_OBJECT_CLASS (sw_tick_view_parent_class)->dispose (object);
}

static void
sw_tick_view_class_init (SwTickViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_tick_view_dispose;
  widget->map = sw_tick_view_map;
  signals[CLOSED] = g_signal_new ("closed", SW_TYPE_TICK_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
  g_type_ensure (SW_TYPE_SIDE_BOX);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/tick-view.ui");
  gtk_widget_class_bind_template_child (widget, SwTickView, heading);
  gtk_widget_class_bind_template_child (widget, SwTickView, summary);
  gtk_widget_class_bind_template_child (widget, SwTickView, cash);
  gtk_widget_class_bind_template_child (widget, SwTickView, docket);
  gtk_widget_class_bind_template_child (widget, SwTickView, back);
  gtk_widget_class_bind_template_child (widget, SwTickView, table);
  gtk_widget_class_bind_template_child (widget, SwTickView, words);
  gtk_widget_class_bind_template_child (widget, SwTickView, buttons);
  gtk_widget_class_bind_template_child (widget, SwTickView, ask);
  gtk_widget_class_bind_template_child (widget, SwTickView, ask_label);
  gtk_widget_class_bind_template_child (widget, SwTickView, ask_entry);
}

static const struct
{
  int column, least; /* letters */
  const char *title;
  gboolean expands, at_end;
} columns[] = {
  { SIGN, 16, N_ ("Back home"), FALSE, FALSE }, { NUMBER, 3, N_ ("No."), FALSE, TRUE },
  { WHAT, 12, N_ ("What"), TRUE, FALSE },       { DETAIL, 12, N_ ("What to know"), TRUE, FALSE },
  { WHERE, 10, N_ ("Where"), TRUE, FALSE },
};

static void
add_column (SwTickView *self, gsize i)
{
  GtkCellRenderer *cell = gtk_cell_renderer_text_new ();
  GtkTreeViewColumn *made = gtk_tree_view_column_new_with_attributes (
      _ (columns[i].title), cell, "text", columns[i].column, "weight", WEIGHT, NULL);

  g_object_set (cell, "ellipsize", columns[i].at_end ? PANGO_ELLIPSIZE_NONE : PANGO_ELLIPSIZE_END,
                "width-chars", columns[i].least, "xalign", columns[i].at_end ? 1.0 : 0.0, NULL);
  gtk_tree_view_column_set_expand (made, columns[i].expands);
  gtk_tree_view_append_column (GTK_TREE_VIEW (self->table), made);
}

static gboolean
is_line (GtkTreeSelection *selection, GtkTreeModel *model, GtkTreePath *path, gboolean is_selected,
         gpointer data)
{
  return gtk_tree_path_get_depth (path) > 1;
}

static void
add_buttons (SwTickView *self)
{
  for (int i = 0; i < SW_N_TICKS; i++)
    {
      self->of_tick[i] = gtk_button_new_with_label (_ (keys[i].label));
      g_signal_connect (self->of_tick[i], "clicked", G_CALLBACK (on_tick_button), self);
      gtk_container_add (GTK_CONTAINER (self->buttons), self->of_tick[i]);
    }
}

static void
sw_tick_view_init (SwTickView *self)
{
  g_autoptr (GtkTreeStore) rows
      = gtk_tree_store_new (N_COLUMNS, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING,
                            G_TYPE_STRING, G_TYPE_POINTER, G_TYPE_INT);
  GtkTreeSelection *selection;

  gtk_widget_init_template (GTK_WIDGET (self));
  self->sent = g_hash_table_new (NULL, NULL);
  self->asking = ASKS_NOTHING;
  gtk_tree_view_set_model (GTK_TREE_VIEW (self->table), GTK_TREE_MODEL (rows));
  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    add_column (self, i);
  add_buttons (self);
  selection = gtk_tree_view_get_selection (GTK_TREE_VIEW (self->table));
  gtk_tree_selection_set_select_function (selection, is_line, NULL, NULL);
  g_signal_connect_swapped (selection, "changed", G_CALLBACK (show_chosen), self);
  g_signal_connect (self->table, "key-press-event", G_CALLBACK (on_key), self);
  g_signal_connect (self->ask_entry, "key-press-event", G_CALLBACK (on_ask_key), self);
  g_signal_connect_swapped (self->ask_entry, "activate", G_CALLBACK (on_answer), self);
  g_signal_connect_swapped (self->cash, "clicked", G_CALLBACK (on_cash), self);
  g_signal_connect_swapped (self->docket, "clicked", G_CALLBACK (on_docket), self);
  g_signal_connect_swapped (self->back, "clicked", G_CALLBACK (on_back), self);
}

void
sw_tick_view_open (SwTickView *self, SwStore *store)
{
  if (self->store != NULL)
    return;
  self->store = g_object_ref (store);
  g_signal_connect_object (store, "changed", G_CALLBACK (load), self, G_CONNECT_SWAPPED);
  gtk_widget_set_sensitive (self->cash, !sw_store_overview (store)->read_only);
}
