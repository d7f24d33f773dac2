/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A fact needs its source, a question may name whom to ask; the row to add asks for what the choice
 * needs and no more. */
#include "app/fact-box.h"

#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/questions.h"
#include "core/catalogue/items.h"

struct _SwFactBox
{
  GtkBox parent;
  SwStore *store;
  gint64 item;
  GtkWidget *lines, *source, *person, *kind, *text, *add;
};

G_DEFINE_TYPE (SwFactBox, sw_fact_box, GTK_TYPE_BOX)

/* What the row can add. source: core's word; NULL: a question. */
static const struct
{
  const char *source, *word, *person, *text;
} ways[] = {
  { "seen", N_ ("Seen"), NULL, N_ ("what was seen") },
  { "tried", N_ ("Tried"), NULL, N_ ("what came of it") },
  { "told", N_ ("Told by"), N_ ("who told it"), N_ ("what was told") },
  { "guessed", N_ ("Guessed"), NULL, N_ ("what it may be") },
  { NULL, N_ ("Question to"), N_ ("whom to ask"), N_ ("what to find out") },
};

/* ---- acts ---- */

typedef struct
{
  gint64 id; /* the item's, or the question's for an answer */
  const char *source;
  char *kind, *text, *person;
} Said;

static void
said_free (gpointer data)
{
  Said *said = data;
  g_free (said->kind);
  g_free (said->text);
  g_free (said->person);
  g_free (said);
}

static gboolean
said_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Said *said = data;

  if (said->source == NULL)
    return sw_question_add (catalogue, said->id, said->text, said->person, NULL, NULL, error);
  return sw_fact_add (catalogue, said->id, said->kind, said->text, said->source, said->person, NULL,
                      error);
}

static gboolean
answer_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Said *said = data;
  return sw_question_answer (catalogue, said->id, said->text, error);
}

static char *
typed (GtkWidget *entry)
{
  return g_strstrip (g_strdup (gtk_entry_get_text (GTK_ENTRY (entry))));
}

/* A refused one stays as it was typed. */
static void
on_added (gpointer owner, gboolean done)
{
  SwFactBox *self = owner;

  if (!done)
    return;
  gtk_entry_set_text (GTK_ENTRY (self->kind), "");
  gtk_entry_set_text (GTK_ENTRY (self->text), "");
}

static void
on_add (SwFactBox *self)
{
  int way = gtk_combo_box_get_active (GTK_COMBO_BOX (self->source));
  Said *said;

  if (self->item == 0 || way < 0 || gtk_entry_get_text_length (GTK_ENTRY (self->text)) == 0)
    return;
  said = g_new0 (Said, 1);
  said->id = self->item;
  said->source = ways[way].source;
  said->kind = typed (self->kind);
  said->text = typed (self->text);
  said->person = ways[way].person != NULL ? typed (self->person) : NULL;
  sw_store_act (self->store, said_run, said, said_free, G_OBJECT (self), on_added);
}

static void
on_answer (GtkWidget *entry, SwFactBox *self)
{
  Said *said;

  if (gtk_entry_get_text_length (GTK_ENTRY (entry)) == 0)
    return;
  said = g_new0 (Said, 1);
  said->id = *(gint64 *)g_object_get_data (G_OBJECT (entry), "sw-question");
  said->text = typed (entry);
  sw_store_act (self->store, answer_run, said, said_free, NULL, NULL);
}

/* ---- what is there ---- */

static void
add_fact (SwFactBox *self, const SwFact *fact)
{
  gboolean told = fact->by_whom != NULL && *fact->by_whom != '\0';
  g_autofree char *text
      = g_strdup_printf (told ? _ ("%s: %s (%s by %s)") : "%s: %s (%s)", fact->kind, fact->text,
                         fact->source, told ? fact->by_whom : "");

  sw_container_add_line (self->lines, text, NULL);
}

static void
add_question (SwFactBox *self, const SwQuestion *question, GHashTable *answers)
{
  gboolean asked = question->person != NULL && *question->person != '\0';
  gboolean answered = question->answer != NULL && *question->answer != '\0';
  g_autofree char *whom = asked ? g_strdup_printf (_ (" (ask %s)"), question->person) : NULL;
  g_autofree char *text = g_strdup_printf ("%s%s%s%s", question->text, asked ? whom : "",
                                           answered ? " " : "", answered ? question->answer : "");
  g_autofree char *name = g_strdup_printf (_ ("Answer to: %s"), question->text);
  const char *begun = g_hash_table_lookup (answers, &question->id);
  GtkWidget *entry;

  sw_container_add_line (self->lines, text, NULL);
  if (answered)
    return;
  entry = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _ ("the answer; ‘mine’ claims it"));
  atk_object_set_name (gtk_widget_get_accessible (entry), name);
  g_object_set_data_full (G_OBJECT (entry), "sw-question",
                          g_memdup2 (&question->id, sizeof question->id), g_free);
  g_signal_connect (entry, "activate", G_CALLBACK (on_answer), self);
  gtk_container_add (GTK_CONTAINER (self->lines), entry);
  gtk_widget_show (entry);
  if (begun == NULL)
    return;
  gtk_widget_grab_focus (entry);
  gtk_entry_set_text (GTK_ENTRY (entry), begun);
  gtk_editable_set_position (GTK_EDITABLE (entry), -1);
}

/* The answer that the person is typing, by its question. */
static GHashTable *
answers_begun (SwFactBox *self)
{
  GHashTable *answers = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  g_autoptr (GList) children = gtk_container_get_children (GTK_CONTAINER (self->lines));

  for (GList *l = children; l != NULL; l = l->next)
    {
      const gint64 *question = g_object_get_data (l->data, "sw-question");
      if (question != NULL && gtk_widget_has_focus (l->data))
        g_hash_table_insert (answers, g_memdup2 (question, sizeof *question),
                             g_strdup (gtk_entry_get_text (GTK_ENTRY (l->data))));
    }
  return answers;
}

void
sw_fact_box_show (SwFactBox *self, gint64 item, const GPtrArray *facts, const GPtrArray *questions)
{
  g_autoptr (GHashTable) answers = answers_begun (self);

  sw_container_empty (self->lines);
  for (guint i = 0; i < facts->len; i++)
    add_fact (self, g_ptr_array_index (facts, i));
  for (guint i = 0; i < questions->len; i++)
    add_question (self, g_ptr_array_index (questions, i), answers);
  gtk_widget_set_visible (self->lines, facts->len + questions->len > 0);
  gtk_widget_set_sensitive (self->add, !sw_store_overview (self->store)->read_only);
  if (item == self->item)
    return;
  self->item = item;
  gtk_entry_set_text (GTK_ENTRY (self->kind), "");
  gtk_entry_set_text (GTK_ENTRY (self->text), "");
}

/* ---- object ---- */

static void
follow_way (SwFactBox *self)
{
  int way = gtk_combo_box_get_active (GTK_COMBO_BOX (self->source));

  gtk_widget_set_visible (self->person, ways[way].person != NULL);
  gtk_widget_set_visible (self->kind, ways[way].source != NULL);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->person), ways[way].person);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->text), ways[way].text);
}

static GtkWidget *
new_entry (SwFactBox *self, GtkWidget *row, const char *name, int width, gboolean expand)
{
  GtkWidget *entry = gtk_entry_new ();

  atk_object_set_name (gtk_widget_get_accessible (entry), name);
  gtk_entry_set_width_chars (GTK_ENTRY (entry), width);
  gtk_widget_set_hexpand (entry, expand);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (on_add), self);
  gtk_container_add (GTK_CONTAINER (row), entry);
  return entry;
}

static void
make_rows (SwFactBox *self)
{
  GtkWidget *first = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *second = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *button = gtk_button_new_with_mnemonic (_ ("A_dd"));

  self->add = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->source = gtk_combo_box_text_new ();
  for (guint i = 0; i < G_N_ELEMENTS (ways); i++)
    gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (self->source), _ (ways[i].word));
  atk_object_set_name (gtk_widget_get_accessible (self->source), _ ("Fact or question"));
  gtk_container_add (GTK_CONTAINER (first), self->source);
  self->person = new_entry (self, first, _ ("Person"), 8, TRUE);
  self->kind = new_entry (self, first, _ ("Fact about"), 8, TRUE);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->kind), _ ("about: maker, length, fault…"));
  self->text = new_entry (self, second, _ ("Fact or question as text"), 12, TRUE);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_add), self);
  gtk_container_add (GTK_CONTAINER (second), button);
  gtk_container_add (GTK_CONTAINER (self->add), first);
  gtk_container_add (GTK_CONTAINER (self->add), second);
  gtk_widget_show_all (self->add);
  gtk_container_add (GTK_CONTAINER (self), self->add);
  g_signal_connect_swapped (self->source, "changed", G_CALLBACK (follow_way), self);
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->source), 0);
}

static void
sw_fact_box_dispose (GObject *object)
{
  g_clear_object (&SW_FACT_BOX (object)->store);
  G_OBJECT_CLASS (sw_fact_box_parent_class)->dispose (object);
}

static void
sw_fact_box_class_init (SwFactBoxClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_fact_box_dispose;
}

static void
sw_fact_box_init (SwFactBox *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 6);
  self->lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  gtk_container_add (GTK_CONTAINER (self), self->lines);
  make_rows (self);
}

GtkWidget *
sw_fact_box_new (void)
{
  return g_object_new (SW_TYPE_FACT_BOX, NULL);
}

void
sw_fact_box_set_store (SwFactBox *self, SwStore *store)
{
  g_set_object (&self->store, store);
}
