/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Builds the fields of a saying and sends it. Checks only that what is needed stands there; the
 * rules are core's, and what is refused stays as it was typed. */
#include "app/say-form.h"

#include "app/text.h"
#include "app/widgets.h"
#include "core/base/solid.h"
#include "core/base/text.h"
#include "core/catalogue/outlets.h"

#include <string.h>

/* After the last key; what a kill can lose. */
#define SAVE_AFTER_MS 800

struct _SwSayForm
{
  GtkBox parent;
  SwStore *store;
  SwSay *begun; /* kind, item, row, and the values last sent */
  SwSay *sent;  /* on its way; NULL: none */
  GtkWidget *fields[SW_SAY_FIELDS], *labels[SW_SAY_FIELDS], *grid, *problem;
  guint timer;
  gboolean closing, again;
};

enum
{
  CLOSED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwSayForm, sw_say_form, GTK_TYPE_BOX)

static const char *const source_words[] = { "seen", "tried", "told", "guessed" };
static const char *const source_names[]
    = { N_ ("Seen"), N_ ("Tried"), N_ ("Told"), N_ ("Guessed") };

/* ---- values ---- */

static const SwSayField *
field_of (SwSayForm *self, int i)
{
  return &sw_say_spec (self->begun->kind)->fields[i];
}

static char *
text_of (GtkWidget *view)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (view));
  GtkTextIter start, end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  return gtk_text_buffer_get_text (buffer, &start, &end, FALSE);
}

static void
say_problem (SwSayForm *self, const char *sentence)
{
  gtk_label_set_text (GTK_LABEL (self->problem), sentence != NULL ? sentence : "");
  gtk_widget_set_visible (self->problem, sentence != NULL);
}

/* What was typed as a value; NULL where it cannot be read: *out_why says why. Transfer full. */
static char *
value_of (SwSayForm *self, int i, char **out_why)
{
  GtkWidget *widget = self->fields[i];
  g_autoptr (GError) error = NULL;
  const char *text;
  char *chosen;
  SwMoney amount;

  switch (field_of (self, i)->kind)
    {
    case SW_FIELD_LONG:
      return g_strstrip (text_of (widget));
    case SW_FIELD_CHECK:
      return g_strdup (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (widget)) ? "1" : "");
    case SW_FIELD_SOURCE:
    case SW_FIELD_CHOICE:
    case SW_FIELD_PLACE:
      text = gtk_combo_box_get_active_id (GTK_COMBO_BOX (widget));
      return g_strdup (text != NULL ? text : "");
    case SW_FIELD_OUTLET:
      chosen = gtk_combo_box_text_get_active_text (GTK_COMBO_BOX_TEXT (widget));
      return chosen != NULL ? g_strstrip (chosen) : g_strdup ("");
    case SW_FIELD_MONEY:
      text = gtk_entry_get_text (GTK_ENTRY (widget));
      if (*text == '\0')
        return g_strdup ("");
      if (sw_store_parse_money (self->store, text, &amount, &error))
        return g_strdup_printf ("%" G_GINT64_FORMAT, amount.minor);
      *out_why = g_strdup (error->message);
      return NULL;
    case SW_FIELD_MM:
      return g_strdelimit (g_strstrip (g_strdup (gtk_entry_get_text (GTK_ENTRY (widget)))), ",",
                           '.');
    default:
      return g_strstrip (g_strdup (gtk_entry_get_text (GTK_ENTRY (widget))));
    }
}

static gboolean
is_told (const SwSay *say, int teller)
{
  return teller > 0 && g_strcmp0 (say->values[teller - 1], "told") == 0;
}

/* Reads all fields; NULL where one cannot be read or is missing. */
static SwSay *
read_fields (SwSayForm *self, char **out_why)
{
  g_autoptr (SwSay) say = sw_say_new (self->begun->kind, self->begun->item, self->begun->id);

  for (int i = 0; i < SW_SAY_FIELDS && field_of (self, i)->kind != SW_FIELD_END; i++)
    {
      const SwSayField *field = field_of (self, i);
      say->values[i] = value_of (self, i, out_why);
      if (say->values[i] == NULL)
        return NULL;
      gboolean needed = field->needed && (field->kind != SW_FIELD_TELLER || is_told (say, i));
      if (field->kind == SW_FIELD_TELLER && !is_told (say, i))
        *say->values[i] = '\0';
      if (needed && *say->values[i] == '\0')
        {
          *out_why = g_strdup_printf (_ ("‘%s’ is still empty."), _ (field->label));
          return NULL;
        }
    }
  if (self->begun->n_items > 0)
    {
      say->n_items = self->begun->n_items;
      say->items = g_memdup2 (self->begun->items, say->n_items * sizeof *say->items);
    }
  return g_steal_pointer (&say);
}

static gboolean
is_same (const SwSay *a, const SwSay *b)
{
  for (int i = 0; i < SW_SAY_FIELDS; i++)
    {
      const char *x = a->values[i] != NULL ? a->values[i] : "";
      const char *y = b->values[i] != NULL ? b->values[i] : "";
      if (strcmp (x, y) != 0)
        return FALSE;
    }
  return TRUE;
}

/* ---- sending ---- */

static void send_typed (SwSayForm *self);

static void
on_sent (gpointer owner, gboolean done)
{
  SwSayForm *self = owner;
  g_autoptr (SwSay) sent = g_steal_pointer (&self->sent);
  gboolean as_typed = sw_say_spec (self->begun->kind)->as_typed;

  if (done && sent != NULL)
    { /* from here on that row is the one that is changed */
      sw_say_unref (self->begun);
      self->begun = g_steal_pointer (&sent);
    }
  if (self->again)
    {
      self->again = FALSE;
      send_typed (self);
      return;
    }
  if (self->closing && (done || as_typed))
    g_signal_emit (self, signals[CLOSED], 0);
  self->closing = FALSE;
}

static void
send (SwSayForm *self, SwSay *say)
{
  self->sent = sw_say_ref (say);
  sw_say_send (self->store, say, G_OBJECT (self), on_sent);
}

/* What is whole and new is sent; what is not waits for the next key. */
static void
send_typed (SwSayForm *self)
{
  g_autofree char *why = NULL;
  g_autoptr (SwSay) say = NULL;

  if (self->sent != NULL)
    {
      self->again = TRUE;
      return;
    }
  say = read_fields (self, &why);
  if (say != NULL && !is_same (say, self->begun))
    send (self, say);
}

static gboolean
on_timer (gpointer data)
{
  SwSayForm *self = data;

  self->timer = 0;
  send_typed (self);
  return G_SOURCE_REMOVE;
}

static void
stop_timer (SwSayForm *self)
{
  if (self->timer != 0)
    g_source_remove (self->timer);
  self->timer = 0;
}

/* The measures bear the names of the chosen shape; those it does not have are not asked for. */
static void
follow_shape (SwSayForm *self)
{
  const char *chosen = gtk_combo_box_get_active_id (GTK_COMBO_BOX (self->fields[0]));
  const char *const *measures = NULL;
  int n = 0;

  for (int s = 0; s < SW_N_SHAPES; s++)
    if (g_strcmp0 (sw_shape_word ((SwShape)s), chosen) == 0)
      measures = sw_shape_measures ((SwShape)s);
  for (int i = 2; i < SW_SAY_FIELDS && self->fields[i] != NULL; i++)
    {
      gboolean has = measures != NULL && measures[n] != NULL;
      g_autofree char *word = has ? sw_text_capital (_ (measures[n])) : NULL;
      gtk_widget_set_visible (self->fields[i], has);
      gtk_widget_set_visible (self->labels[i], has);
      if (!has)
        continue;
      gtk_label_set_text (GTK_LABEL (self->labels[i]), word);
      atk_object_set_name (gtk_widget_get_accessible (self->fields[i]), word);
      n++;
    }
}

static void
follow (SwSayForm *self)
{
  if (self->begun->kind == SW_SAY_SHAPE)
    follow_shape (self);
  for (int i = 0; i < SW_SAY_FIELDS && field_of (self, i)->kind != SW_FIELD_END; i++)
    {
      gboolean told;
      if (field_of (self, i)->kind != SW_FIELD_TELLER)
        continue;
      told = g_strcmp0 (gtk_combo_box_get_active_id (GTK_COMBO_BOX (self->fields[i - 1])), "told")
             == 0;
      gtk_widget_set_visible (self->fields[i], told);
      gtk_widget_set_visible (self->labels[i], told);
    }
}

static void
on_typed (SwSayForm *self)
{
  say_problem (self, NULL);
  follow (self);
  stop_timer (self);
  if (sw_say_spec (self->begun->kind)->as_typed)
    self->timer = g_timeout_add (SAVE_AFTER_MS, on_timer, self);
}

/* Enter or the button: sends what is left and closes once it stands. */
static void
on_done (SwSayForm *self)
{
  g_autofree char *why = NULL;
  g_autoptr (SwSay) say = read_fields (self, &why);

  stop_timer (self);
  if (say == NULL)
    {
      say_problem (self, why);
      return;
    }
  if (self->sent != NULL)
    {
      self->again = self->closing = TRUE;
      return;
    }
  if (is_same (say, self->begun) && sw_say_spec (self->begun->kind)->as_typed)
    {
      g_signal_emit (self, signals[CLOSED], 0);
      return;
    }
  self->closing = TRUE;
  send (self, say);
}

static void
on_withdraw (SwSayForm *self)
{
  stop_timer (self);
  sw_say_withdraw (self->store, self->begun->kind, self->begun->id);
  g_signal_emit (self, signals[CLOSED], 0);
}

static void
on_cancel (SwSayForm *self)
{
  sw_say_form_flush (self);
  g_signal_emit (self, signals[CLOSED], 0);
}

void
sw_say_form_flush (SwSayForm *self)
{
  stop_timer (self);
  if (sw_say_spec (self->begun->kind)->as_typed)
    send_typed (self);
}

static void
on_settle (SwSayForm *self)
{
  if (self->timer != 0)
    sw_say_form_flush (self);
}

static gboolean
on_key (GtkWidget *widget, GdkEventKey *event, SwSayForm *self)
{
  if (event->keyval != GDK_KEY_Escape)
    return FALSE;
  on_cancel (self);
  return TRUE;
}

/* ---- building ---- */

static GtkWidget *
new_combo (const char *const *ids, const char *const *names, gsize n, const char *chosen)
{
  GtkWidget *combo = gtk_combo_box_text_new ();

  for (gsize i = 0; i < n; i++)
    gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (combo), ids[i], _ (names[i]));
  if (chosen == NULL || !gtk_combo_box_set_active_id (GTK_COMBO_BOX (combo), chosen))
    gtk_combo_box_set_active (GTK_COMBO_BOX (combo), -1);
  return combo;
}

static GtkWidget *
new_places (SwSayForm *self, gboolean needed, const char *chosen)
{
  GtkWidget *combo = gtk_combo_box_text_new ();
  const GPtrArray *places = sw_store_overview (self->store)->places;

  if (!needed)
    gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (combo), "", _ ("nobody knows"));
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      g_autofree char *id = g_strdup_printf ("%" G_GINT64_FORMAT, place->id);
      gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (combo), id, place->path);
    }
  gtk_combo_box_set_active_id (GTK_COMBO_BOX (combo), chosen != NULL ? chosen : "");
  sw_combo_ellipsize (combo);
  return combo;
}

/* Outlets are read when the form opens: into a list to choose from, or for completing a yard's
 * name.
 */
static gpointer
outlets_read (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return sw_outlet_list (catalogue, error);
}

static void
on_outlets (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (GtkWidget) field = data;
  SwStore *store = g_object_get_data (G_OBJECT (field), "sw-store");
  g_autoptr (GPtrArray) outlets = sw_store_finish (store, result, NULL);

  for (guint i = 0; outlets != NULL && i < outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (outlets, i);
      if (GTK_IS_COMBO_BOX_TEXT (field))
        gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (field), outlet->name, outlet->name);
      else if (outlet->has_kind && outlet->kind == SW_OUTLET_SCRAP_YARD)
        gtk_list_store_insert_with_values (GTK_LIST_STORE (gtk_entry_completion_get_model (
                                               gtk_entry_get_completion (GTK_ENTRY (field)))),
                                           NULL, -1, 0, outlet->name, -1);
    }
}

static void
read_outlets (SwSayForm *self, GtkWidget *field)
{
  g_object_set_data_full (G_OBJECT (field), "sw-store", g_object_ref (self->store), g_object_unref);
  sw_store_read (self->store, SW_RANK_KEY, outlets_read, NULL, NULL,
                 (GDestroyNotify)g_ptr_array_unref, NULL, on_outlets, g_object_ref_sink (field));
}

static void
complete (GtkWidget *entry, const char *const *words)
{
  g_autoptr (GtkEntryCompletion) completion = gtk_entry_completion_new ();
  g_autoptr (GtkListStore) store = gtk_list_store_new (1, G_TYPE_STRING);

  for (int i = 0; words != NULL && words[i] != NULL; i++)
    gtk_list_store_insert_with_values (store, NULL, -1, 0, _ (words[i]), -1);
  gtk_entry_completion_set_model (completion, GTK_TREE_MODEL (store));
  gtk_entry_completion_set_text_column (completion, 0);
  gtk_entry_completion_set_minimum_key_length (completion, 1);
  gtk_entry_set_completion (GTK_ENTRY (entry), completion);
}

static GtkWidget *
new_long (SwSayForm *self, const char *text)
{
  GtkWidget *view = gtk_text_view_new ();
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (view));

  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (view), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (view), FALSE);
  gtk_text_view_set_left_margin (GTK_TEXT_VIEW (view), 6);
  gtk_text_view_set_top_margin (GTK_TEXT_VIEW (view), 4);
  gtk_widget_set_size_request (view, -1, 64);
  if (text != NULL)
    gtk_text_buffer_set_text (buffer, text, -1);
  g_signal_connect_swapped (buffer, "changed", G_CALLBACK (on_typed), self);
  gtk_style_context_add_class (gtk_widget_get_style_context (view), "sw-long");
  return view;
}

static GtkWidget *
new_entry (SwSayForm *self, const SwSayField *field, const char *value)
{
  GtkWidget *entry = gtk_entry_new ();
  g_autofree char *shown = NULL;

  if (field->kind == SW_FIELD_MONEY)
    {
      shown = value != NULL && *value != '\0'
                  ? sw_store_money (self->store, sw_money (g_ascii_strtoll (value, NULL, 10)))
                  : NULL;
      gtk_entry_set_placeholder_text (
          GTK_ENTRY (entry),
          field->hint != NULL ? _ (field->hint) : sw_store_overview (self->store)->currency.code);
    }
  else
    gtk_entry_set_placeholder_text (GTK_ENTRY (entry),
                                    field->hint != NULL ? _ (field->hint) : NULL);
  gtk_entry_set_text (GTK_ENTRY (entry), shown != NULL ? shown : value != NULL ? value : "");
  gtk_entry_set_width_chars (GTK_ENTRY (entry), 12);
  gtk_widget_set_hexpand (entry, TRUE);
  if (field->kind == SW_FIELD_TEXT && field->choices != NULL)
    complete (entry, field->choices ());
  if (field->kind == SW_FIELD_YARD)
    {
      complete (entry, NULL);
      read_outlets (self, entry);
    }
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (on_typed), self);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (on_done), self);
  return entry;
}

static GtkWidget *
new_field (SwSayForm *self, const SwSayField *field, const char *value)
{
  GtkWidget *widget;
  gsize n = 0;

  switch (field->kind)
    {
    case SW_FIELD_LONG:
      return new_long (self, value);
    case SW_FIELD_CHECK:
      widget = gtk_check_button_new_with_label (_ (field->label));
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (widget), g_strcmp0 (value, "1") == 0);
      g_signal_connect_swapped (widget, "toggled", G_CALLBACK (on_typed), self);
      return widget;
    case SW_FIELD_SOURCE:
      widget = new_combo (source_words, source_names, G_N_ELEMENTS (source_words),
                          value != NULL ? value : "seen");
      break;
    case SW_FIELD_CHOICE:
      while (field->choices ()[n] != NULL)
        n++;
      widget = new_combo (field->choices (), field->choices (), n, value);
      break;
    case SW_FIELD_PLACE:
      widget = new_places (self, field->needed, value);
      break;
    case SW_FIELD_OUTLET:
      widget = gtk_combo_box_text_new ();
      sw_combo_ellipsize (widget);
      read_outlets (self, widget);
      break;
    default:
      return new_entry (self, field, value);
    }
  g_signal_connect_swapped (widget, "changed", G_CALLBACK (on_typed), self);
  return widget;
}

static void
add_field (SwSayForm *self, int i)
{
  const SwSayField *field = field_of (self, i);
  GtkWidget *label = gtk_label_new (field->kind == SW_FIELD_CHECK ? "" : _ (field->label));
  GtkWidget *widget = new_field (self, field, self->begun->values[i]);

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_style_context_add_class (gtk_widget_get_style_context (label), "dim-label");
  if (field->kind != SW_FIELD_CHECK)
    gtk_label_set_mnemonic_widget (GTK_LABEL (label), widget);
  atk_object_set_name (gtk_widget_get_accessible (widget), _ (field->label));
  gtk_grid_attach (GTK_GRID (self->grid), label, 0, i, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), widget, 1, i, 1, 1);
  self->fields[i] = widget;
  self->labels[i] = label;
}

static void
add_buttons (SwSayForm *self)
{
  const SwSaySpec *spec = sw_say_spec (self->begun->kind);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *done = gtk_button_new_with_label (spec->as_typed ? _ ("Done") : _ (spec->title));
  GtkWidget *button;

  g_signal_connect_swapped (done, "clicked", G_CALLBACK (on_done), self);
  gtk_box_pack_end (GTK_BOX (row), done, FALSE, FALSE, 0);
  if (!spec->as_typed)
    {
      button = gtk_button_new_with_label (_ ("Leave it"));
      g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_cancel), self);
      gtk_box_pack_end (GTK_BOX (row), button, FALSE, FALSE, 0);
    }
  if (self->begun->id != 0 && sw_say_can_withdraw (self->begun->kind))
    {
      button = gtk_button_new_with_label (_ ("Withdraw"));
      gtk_widget_set_tooltip_text (button, _ ("It stays in the history"));
      g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_withdraw), self);
      gtk_box_pack_start (GTK_BOX (row), button, FALSE, FALSE, 0);
    }
  gtk_container_add (GTK_CONTAINER (self), row);
}

static void
sw_say_form_dispose (GObject *object)
{
  SwSayForm *self = SW_SAY_FORM (object);

  stop_timer (self);
  g_clear_object (&self->store);
  g_clear_pointer (&self->begun, sw_say_unref);
  g_clear_pointer (&self->sent, sw_say_unref);
  G_OBJECT_CLASS (sw_say_form_parent_class)->dispose (object);
}

static void
sw_say_form_class_init (SwSayFormClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_say_form_dispose;
  signals[CLOSED] = g_signal_new ("closed", SW_TYPE_SAY_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
}

static void
sw_say_form_init (SwSayForm *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 8);
  gtk_style_context_add_class (gtk_widget_get_style_context (GTK_WIDGET (self)), "sw-card");
  self->grid = gtk_grid_new ();
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 10);
  gtk_container_add (GTK_CONTAINER (self), self->grid);
  self->problem = sw_container_add_line (GTK_WIDGET (self), "", "sw-problem");
  gtk_widget_set_no_show_all (self->problem, TRUE);
  gtk_widget_hide (self->problem);
  g_signal_connect (self, "key-press-event", G_CALLBACK (on_key), self);
}

GtkWidget *
sw_say_form_new (SwStore *store, SwSay *begun)
{
  SwSayForm *self = g_object_new (SW_TYPE_SAY_FORM, NULL);

  self->store = g_object_ref (store);
  self->begun = sw_say_ref (begun);
  g_signal_connect_object (store, "settle", G_CALLBACK (on_settle), self, G_CONNECT_SWAPPED);
  for (int i = 0; i < SW_SAY_FIELDS && field_of (self, i)->kind != SW_FIELD_END; i++)
    add_field (self, i);
  add_buttons (self);
  gtk_widget_show_all (GTK_WIDGET (self));
  follow (self);
  stop_timer (self);
  return GTK_WIDGET (self);
}

void
sw_say_form_focus (SwSayForm *self)
{
  for (int i = 0; i < SW_SAY_FIELDS && self->fields[i] != NULL; i++)
    if (self->begun->values[i] == NULL || *self->begun->values[i] == '\0')
      {
        gtk_widget_grab_focus (self->fields[i]);
        return;
      }
  if (self->fields[0] != NULL)
    gtk_widget_grab_focus (self->fields[0]);
}
