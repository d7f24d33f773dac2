/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shows open questions and takes their answers. Who claims what by an answer is core's. */
#include "app/ask-list.h"

#include "app/file-out.h"
#include "app/say.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/claims.h"
#include "core/catalogue/questions.h"
#include "core/handout/call-list.h"

#include <string.h>

/* More rows than are asked in one call; the rest comes up as those are answered. */
#define ROWS_AT_MOST 200

struct _SwAskList
{
  GtkBox parent;
  SwStore *store;
  GtkWidget *people, *copy, *save, *rows, *none, *clashes;
  gboolean filling;
};

G_DEFINE_TYPE (SwAskList, sw_ask_list, GTK_TYPE_BOX)

/* What is read on the catalogue thread. */
typedef struct
{
  GPtrArray *questions; /* SwQuestion, open, by person */
  GPtrArray *claims;    /* SwClaimSaid, of everybody */
} Asked;

static void
asked_free (gpointer data)
{
  Asked *asked = data;

  g_clear_pointer (&asked->questions, g_ptr_array_unref);
  g_clear_pointer (&asked->claims, g_ptr_array_unref);
  g_free (asked);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Asked, asked_free)

static gpointer
asked_read (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (Asked) asked = g_new0 (Asked, 1);

  asked->questions = sw_question_open (catalogue, NULL, error);
  asked->claims = asked->questions != NULL ? sw_claim_list (catalogue, 0, error) : NULL;
  return asked->claims != NULL ? g_steal_pointer (&asked) : NULL;
}

/* The person chosen; NULL: everybody. */
static const char *
person_of (SwAskList *self)
{
  int chosen = gtk_combo_box_get_active (GTK_COMBO_BOX (self->people));

  return chosen > 0 ? gtk_combo_box_get_active_id (GTK_COMBO_BOX (self->people)) : NULL;
}

static const char *
whom (const SwQuestion *question)
{
  return question->person != NULL ? question->person : "";
}

/* ---- answers ---- */

static void
on_answer (GtkWidget *entry, SwAskList *self)
{
  const gint64 *ids = g_object_get_data (G_OBJECT (entry), "sw-question");
  g_autoptr (SwSay) say = NULL;

  gtk_widget_child_focus (self->rows, GTK_DIR_TAB_FORWARD); /* its check button */
  gtk_widget_child_focus (self->rows, GTK_DIR_TAB_FORWARD); /* the next answer */
  if (gtk_entry_get_text_length (GTK_ENTRY (entry)) == 0)
    return;
  say = sw_say_new (SW_SAY_ANSWER, ids[0], ids[1]);
  say->values[0] = g_strstrip (g_strdup (gtk_entry_get_text (GTK_ENTRY (entry))));
  say->values[1] = g_strdup ("");
  sw_say_send (self->store, say, NULL, NULL);
}

static char *
detail_of (const SwQuestion *question)
{
  g_autofree char *day = question->has_by ? sw_day_written (question->by) : NULL;
  g_autofree char *by = day != NULL ? g_strdup_printf (_ ("by %s"), day) : NULL;
  const char *parts[4] = { question->place_path };
  guint n = 1;

  if (*whom (question) != '\0')
    parts[n++] = whom (question);
  parts[n] = by;
  return g_strjoinv (", ", (char **)parts);
}

/* ---- who was asked and has not answered yet ---- */

typedef struct
{
  gint64 question;
  gboolean asked;
} Tick;

static gboolean
tick_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Tick *tick = data;

  return sw_question_set_asked (catalogue, tick->question, tick->asked, error);
}

static void
on_asked (GtkToggleButton *check, SwAskList *self)
{
  const gint64 *ids = g_object_get_data (G_OBJECT (check), "sw-question");
  const Tick tick = { ids[1], gtk_toggle_button_get_active (check) };

  sw_store_act (self->store, tick_run, g_memdup2 (&tick, sizeof tick), g_free, NULL, NULL);
}

static GtkWidget *
asked_check (SwAskList *self, const SwQuestion *question, const char *head)
{
  GtkWidget *check = gtk_check_button_new_with_label (_ ("Asked"));
  const gint64 ids[] = { question->item, question->id };
  g_autofree char *name = g_strdup_printf (_ ("Asked: %s"), head);

  gtk_widget_set_tooltip_text (check, _ ("Whoever knows was asked; the answer is still to come"));
  atk_object_set_name (gtk_widget_get_accessible (check), name);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (check), question->asked);
  g_object_set_data_full (G_OBJECT (check), "sw-question", g_memdup2 (ids, sizeof ids), g_free);
  g_signal_connect (check, "toggled", G_CALLBACK (on_asked), self);
  return check;
}

/* What the keyboard was in while the rows are made anew. */
typedef struct
{
  gint64 question; /* 0: in no row */
  gboolean check;  /* in its check button, not in its entry */
  char *begun;     /* what stands in the entry */
} Focus;

static void
add_row (SwAskList *self, const SwQuestion *question, const Focus *focus)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2), *entry = gtk_entry_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *check;
  const gint64 ids[] = { question->item, question->id };
  g_autofree char *head = g_strdup_printf ("%s: %s", question->item_name, question->text);
  g_autofree char *detail = detail_of (question);
  g_autofree char *name = g_strdup_printf (_ ("Answer to: %s"), head);

  sw_container_add_line (row, head, "sw-state");
  sw_container_add_line (row, detail, "dim-label");
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _ ("the answer; ‘mine’ claims it"));
  atk_object_set_name (gtk_widget_get_accessible (entry), name);
  g_object_set_data_full (G_OBJECT (entry), "sw-question", g_memdup2 (ids, sizeof ids), g_free);
  g_signal_connect (entry, "activate", G_CALLBACK (on_answer), self);
  check = asked_check (self, question, head);
  gtk_box_pack_start (GTK_BOX (line), entry, TRUE, TRUE, 0);
  gtk_box_pack_start (GTK_BOX (line), check, FALSE, FALSE, 0);
  gtk_container_add (GTK_CONTAINER (row), line);
  gtk_container_add (GTK_CONTAINER (self->rows), row);
  gtk_widget_show_all (row);
  if (question->id != focus->question)
    return;
  gtk_widget_grab_focus (focus->check ? check : entry);
  if (focus->check)
    return;
  gtk_entry_set_text (GTK_ENTRY (entry), focus->begun);
  gtk_editable_set_position (GTK_EDITABLE (entry), -1);
}

static Focus
focus_of (SwAskList *self)
{
  GtkWidget *top = gtk_widget_get_toplevel (GTK_WIDGET (self));
  GtkWidget *in = GTK_IS_WINDOW (top) ? gtk_window_get_focus (GTK_WINDOW (top)) : NULL;
  const gint64 *ids = in != NULL && gtk_widget_is_ancestor (in, self->rows)
                          ? g_object_get_data (G_OBJECT (in), "sw-question")
                          : NULL;

  if (ids == NULL)
    return (Focus){ 0 };
  return (Focus){ .question = ids[1],
                  .check = !GTK_IS_ENTRY (in),
                  .begun
                  = GTK_IS_ENTRY (in) ? g_strdup (gtk_entry_get_text (GTK_ENTRY (in))) : NULL };
}

/* ---- filling ---- */

static void
fill_people (SwAskList *self, const GPtrArray *questions)
{
  g_autofree char *chosen = g_strdup (person_of (self));
  const char *last = NULL;

  self->filling = TRUE;
  gtk_combo_box_text_remove_all (GTK_COMBO_BOX_TEXT (self->people));
  gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (self->people), NULL, _ ("Everybody"));
  for (guint i = 0; i < questions->len; i++)
    {
      const char *person = whom (g_ptr_array_index (questions, i));
      if (last != NULL && strcmp (last, person) == 0)
        continue;
      last = person;
      gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (self->people), person,
                                 *person != '\0' ? person : _ ("Nobody named"));
    }
  if (chosen == NULL || !gtk_combo_box_set_active_id (GTK_COMBO_BOX (self->people), chosen))
    gtk_combo_box_set_active (GTK_COMBO_BOX (self->people), 0);
  self->filling = FALSE;
}

static void
fill_rows (SwAskList *self, const GPtrArray *questions)
{
  Focus focus = focus_of (self);
  const char *person = person_of (self);
  guint shown = 0;

  sw_container_empty (self->rows);
  for (guint i = 0; i < questions->len && shown < ROWS_AT_MOST; i++)
    {
      const SwQuestion *question = g_ptr_array_index (questions, i);
      if (person != NULL && strcmp (person, whom (question)) != 0)
        continue;
      add_row (self, question, &focus);
      shown++;
    }
  g_free (focus.begun);
  gtk_widget_set_visible (self->none, shown == 0);
  gtk_widget_set_sensitive (self->copy, shown > 0);
  gtk_widget_set_sensitive (self->save, shown > 0);
}

/* The rows of one item stand together, 'mine' first. */
static void
fill_clashes (SwAskList *self, const GPtrArray *claims)
{
  sw_container_empty (self->clashes);
  for (guint i = 0; i + 1 < claims->len; i++)
    {
      const SwClaimSaid *one = g_ptr_array_index (claims, i);
      const SwClaimSaid *two = g_ptr_array_index (claims, i + 1);
      g_autofree char *text = NULL;
      if (one->item != two->item || one->says != SW_CLAIM_MINE || two->says != SW_CLAIM_MINE)
        continue;
      text = g_strdup_printf (_ ("%s: %s and %s both say it is theirs."), one->item_name,
                              *one->person != '\0' ? one->person : _ ("somebody"),
                              *two->person != '\0' ? two->person : _ ("somebody"));
      sw_container_add_line (self->clashes, text, "sw-problem");
    }
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwAskList) self = data;
  g_autoptr (Asked) asked = NULL;

  if (self->store == NULL)
    return;
  asked = sw_store_finish (self->store, result, NULL);
  if (asked == NULL)
    return;
  fill_people (self, asked->questions);
  fill_rows (self, asked->questions);
  fill_clashes (self, asked->claims);
}

void
sw_ask_list_load (SwAskList *self)
{
  if (self->store == NULL || self->filling || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  sw_store_read (self->store, SW_RANK_VISIBLE, asked_read, NULL, NULL, asked_free, NULL, on_read,
                 g_object_ref (self));
}

/* ---- the call list ---- */

static gpointer
text_read (SwCatalogue *catalogue, gpointer person, GCancellable *cancellable, GError **error)
{
  return sw_call_list_text (catalogue, person, error);
}

static void
on_text (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwAskList) self = data;
  g_autofree char *text = NULL;

  if (self->store == NULL)
    return;
  text = sw_store_finish (self->store, result, NULL);
  if (text == NULL)
    return;
  gtk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self), GDK_SELECTION_CLIPBOARD),
                          text, -1);
  sw_store_tell (self->store, _ ("The call list is on the clipboard: paste it where you need it."),
                 FALSE);
}

static void
on_copy (SwAskList *self)
{
  sw_store_read (self->store, SW_RANK_VISIBLE, text_read, g_strdup (person_of (self)), g_free,
                 g_free, NULL, on_text, g_object_ref (self));
}

/* ---- the same on paper ---- */

static gpointer
write_paper (SwCatalogue *catalogue, gconstpointer person, const char *path, GError **error)
{
  g_autofree char *name = g_path_get_basename (path), *count = NULL;
  int pages = 0;

  if (!sw_call_list_write (catalogue, person, path, &pages, error))
    return NULL;
  count = sw_text_count (pages, "%d page", "%d pages");
  return g_strdup_printf (_ ("%s written: the call list, %s"), name, count);
}

static const SwFileOut call_list_out = {
  .title = N_ ("Call list as PDF"),
  .name = N_ ("call-list.pdf"),
  .suffix = ".pdf",
  .read = write_paper,
};

static void
on_save (SwAskList *self)
{
  sw_file_out_ask (GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self))), self->store,
                   &call_list_out, g_strdup (person_of (self)), g_free);
}

/* ---- object ---- */

static void
sw_ask_list_dispose (GObject *object)
{
  g_clear_object (&SW_ASK_LIST (object)->store);
  G_OBJECT_CLASS (sw_ask_list_parent_class)->dispose (object);
}

static void
sw_ask_list_class_init (SwAskListClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_ask_list_dispose;
}

static void
sw_ask_list_init (SwAskList *self)
{
  GtkWidget *top = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *scroller = gtk_scrolled_window_new (NULL, NULL);
  GtkWidget *inside = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  self->people = gtk_combo_box_text_new ();
  sw_combo_keep_keyboard (self->people);
  sw_combo_ellipsize (self->people);
  atk_object_set_name (gtk_widget_get_accessible (self->people), _ ("Whom to ask"));
  self->copy = gtk_button_new_with_mnemonic (_ ("_Copy"));
  gtk_widget_set_tooltip_text (self->copy, _ ("Put the call list on the clipboard"));
  atk_object_set_name (gtk_widget_get_accessible (self->copy), _ ("Copy call list"));
  self->save = gtk_button_new_with_mnemonic (_ ("_Save PDF…"));
  gtk_widget_set_tooltip_text (self->save, _ ("The call list on paper, with room for the answers"));
  atk_object_set_name (gtk_widget_get_accessible (self->save), _ ("Save call list as PDF"));
  gtk_box_pack_start (GTK_BOX (top), self->people, TRUE, TRUE, 0);
  gtk_box_pack_end (GTK_BOX (top), self->save, FALSE, FALSE, 0);
  gtk_box_pack_end (GTK_BOX (top), self->copy, FALSE, FALSE, 0);
  gtk_container_set_border_width (GTK_CONTAINER (top), 10);
  gtk_container_add (GTK_CONTAINER (self), top);
  self->clashes = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  self->rows = gtk_box_new (GTK_ORIENTATION_VERTICAL, 14);
  gtk_container_add (GTK_CONTAINER (inside), self->clashes);
  gtk_container_add (GTK_CONTAINER (inside), self->rows);
  self->none = sw_container_add_line (
      inside, _ ("Nothing to ask here. Questions are put on an item's sheet."), "dim-label");
  gtk_container_set_border_width (GTK_CONTAINER (inside), 10);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_style_context_add_class (gtk_widget_get_style_context (scroller), "sw-top-line");
  gtk_container_add (GTK_CONTAINER (scroller), inside);
  gtk_box_pack_start (GTK_BOX (self), scroller, TRUE, TRUE, 0);
  g_signal_connect_swapped (self->people, "changed", G_CALLBACK (sw_ask_list_load), self);
  g_signal_connect_swapped (self->copy, "clicked", G_CALLBACK (on_copy), self);
  g_signal_connect_swapped (self->save, "clicked", G_CALLBACK (on_save), self);
  g_signal_connect (self, "map", G_CALLBACK (sw_ask_list_load), NULL);
  gtk_widget_show_all (GTK_WIDGET (self));
}

void
sw_ask_list_set_store (SwAskList *self, SwStore *store)
{
  g_set_object (&self->store, store);
}
