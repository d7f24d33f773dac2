/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays out what is said of an item and opens its forms. Text only; acts are say.c's, rules core's.
 */
#include "app/about-box.h"

#include "app/item-acts.h"
#include "app/say-form.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/claims.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/prices.h"
#include "core/catalogue/questions.h"

#include <string.h>

typedef enum
{
  GROUP_ABOUT,
  GROUP_WORTH,
  GROUP_ASK,
  GROUP_DO,
  N_GROUPS,
} Group;

static const char *const headings[N_GROUPS]
    = { N_ ("About it"), N_ ("Worth"), N_ ("To find out"), N_ ("To do on site") };

/* Where a kind of saying stands; in the order of its 'add' button. */
static const struct
{
  SwSayKind kind;
  Group group;
} places_of_kinds[] = {
  { SW_SAY_CONDITION, GROUP_ABOUT }, { SW_SAY_WRONG, GROUP_ABOUT }, { SW_SAY_SIZE, GROUP_ABOUT },
  { SW_SAY_MASS, GROUP_ABOUT },      { SW_SAY_SHAPE, GROUP_ABOUT }, { SW_SAY_BELONGS, GROUP_ABOUT },
  { SW_SAY_DANGER, GROUP_ABOUT },    { SW_SAY_STORY, GROUP_ABOUT }, { SW_SAY_FACT, GROUP_ABOUT },
  { SW_SAY_BREAK_UP, GROUP_ABOUT },  { SW_SAY_PRICE, GROUP_WORTH }, { SW_SAY_RESERVE, GROUP_WORTH },
  { SW_SAY_SCRAP, GROUP_WORTH },     { SW_SAY_RATE, GROUP_WORTH },  { SW_SAY_QUESTION, GROUP_ASK },
  { SW_SAY_ANSWER, GROUP_ASK },      { SW_SAY_CLAIM, GROUP_ASK },   { SW_SAY_JOB, GROUP_DO },
};

struct _SwAboutBox
{
  GtkBox parent;
  SwStore *store;
  const SwSheetData *data; /* the sheet's; NULL: nothing shown */
  gint64 item;
  GtkWidget *lines[N_GROUPS], *slots[N_GROUPS], *adds[N_GROUPS];
  GtkWidget *form; /* the one that is open; NULL: none */
  guint missing;   /* bits of the kinds that have their 'add' button */
};

G_DEFINE_TYPE (SwAboutBox, sw_about_box, GTK_TYPE_BOX)

static Group
group_of (SwSayKind kind)
{
  for (gsize i = 0; i < G_N_ELEMENTS (places_of_kinds); i++)
    if (places_of_kinds[i].kind == kind)
      return places_of_kinds[i].group;
  return GROUP_ABOUT;
}

/* ---- forms ---- */

static void
close_form (SwAboutBox *self)
{
  GtkWidget *form = g_steal_pointer (&self->form);

  if (form == NULL)
    return;
  gtk_widget_destroy (form);
}

static void
on_form_closed (SwSayForm *form, SwAboutBox *self)
{
  Group group
      = group_of ((SwSayKind)GPOINTER_TO_INT (g_object_get_data (G_OBJECT (form), "sw-kind")));

  if (self->form != GTK_WIDGET (form))
    return;
  close_form (self);
  gtk_widget_child_focus (self->adds[group], GTK_DIR_TAB_FORWARD);
}

void
sw_about_box_leave (SwAboutBox *self)
{
  if (self->form == NULL)
    return;
  sw_say_form_flush (SW_SAY_FORM (self->form));
  close_form (self);
}

/* The whole form comes into view, not only the field with the keyboard; once it has its place. */
static void
bring_into_view (GtkWidget *form, GtkAllocation *at, gpointer data)
{
  GtkWidget *scroller = gtk_widget_get_ancestor (form, GTK_TYPE_SCROLLED_WINDOW);
  GtkWidget *inside = scroller != NULL ? gtk_bin_get_child (GTK_BIN (scroller)) : NULL;
  GtkAdjustment *down;
  int x, y;

  g_signal_handlers_disconnect_by_func (form, bring_into_view, data);
  if (inside == NULL
      || !gtk_widget_translate_coordinates (form, gtk_bin_get_child (GTK_BIN (inside)), 0, 0, &x,
                                            &y))
    return;
  down = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroller));
  gtk_adjustment_clamp_page (down, y, y + at->height + 8);
}

void
sw_about_box_open (SwAboutBox *self, SwSay *begun)
{
  Group group = group_of (begun->kind);

  sw_about_box_leave (self);
  self->form = sw_say_form_new (self->store, begun);
  g_object_set_data (G_OBJECT (self->form), "sw-kind", GINT_TO_POINTER (begun->kind));
  g_signal_connect (self->form, "closed", G_CALLBACK (on_form_closed), self);
  gtk_container_add (GTK_CONTAINER (self->slots[group]), self->form);
  gtk_widget_show (self->slots[group]);
  g_signal_connect_after (self->form, "size-allocate", G_CALLBACK (bring_into_view), NULL);
  sw_say_form_focus (SW_SAY_FORM (self->form));
}

static char *
amount_text (gboolean has, SwMoney amount)
{
  return has ? g_strdup_printf ("%" G_GINT64_FORMAT, amount.minor) : g_strdup ("");
}

static char *
length_text (gint64 mm)
{
  return mm != 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, mm) : g_strdup ("");
}

/* What is known already stands in the fields. */
static void
prefill (SwAboutBox *self, SwSay *say)
{
  const SwItem *item = self->data->item;

  switch (say->kind)
    {
    case SW_SAY_SIZE:
      say->values[0] = g_strdup (item->size != SW_SIZE_UNKNOWN ? sw_size_word (item->size) : "");
      say->values[1]
          = g_strdup (item->stows != SW_STOWS_UNKNOWN ? sw_stows_word (item->stows) : "");
      say->values[2] = length_text (item->length_mm);
      say->values[3] = length_text (item->width_mm);
      say->values[4] = length_text (item->height_mm);
      say->values[5] = g_strdup (item->size_guessed ? "1" : "");
      break;
    case SW_SAY_MASS:
      say->values[0] = g_strdup (item->has_mass && strcmp (item->mass_source, "worked out") != 0
                                     ? item->mass_source
                                     : "typed");
      say->values[1] = item->has_mass ? sw_mass_to_text (item->mass) : g_strdup ("");
      break;
    case SW_SAY_SHAPE:
      say->values[1] = g_strdup ("steel");
      break;
    case SW_SAY_RESERVE:
      say->values[0] = amount_text (item->has_reserve, item->reserve);
      break;
    case SW_SAY_SCRAP:
      say->values[0] = g_strdup (item->scrap_class != NULL ? item->scrap_class : "");
      break;
    case SW_SAY_RATE:
      say->values[1] = g_strdup (item->scrap_class != NULL ? item->scrap_class : "");
      say->values[3] = g_strdup (self->data->today);
      break;
    default:
      break;
    }
}

static void
on_add (GtkButton *button, SwAboutBox *self)
{
  SwSayKind kind = (SwSayKind)GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "sw-kind"));
  g_autoptr (SwSay) say = NULL;

  if (self->data == NULL)
    return;
  say = sw_say_new (kind, self->item, 0);
  prefill (self, say);
  sw_about_box_open (self, say);
}

static void
on_line (GtkButton *button, SwAboutBox *self)
{
  SwSay *say = g_object_get_data (G_OBJECT (button), "sw-say");

  sw_about_box_open (self, say);
}

/* ---- lines ---- */

static GtkWidget *
new_label (const char *text, const char *class, gboolean wrap)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_yalign (GTK_LABEL (label), 0);
  gtk_label_set_line_wrap (GTK_LABEL (label), wrap);
  gtk_label_set_line_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  if (class != NULL)
    gtk_style_context_add_class (gtk_widget_get_style_context (label), class);
  return label;
}

/* A line that opens its form: what it is about, what is said, on what ground. say: transfer full.
 */
static void
add_line (SwAboutBox *self, Group group, const char *about, const char *said, const char *ground,
          const char *caution, SwSay *say)
{
  GtkWidget *both = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  GtkWidget *button = gtk_button_new ();
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *head = new_label (about, "dim-label", TRUE);
  g_autofree char *text
      = ground != NULL ? g_strdup_printf ("%s  (%s)", said, ground) : g_strdup (said);
  g_autofree char *name = g_strdup_printf ("%s: %s%s%s", about, text, caution != NULL ? ". " : "",
                                           caution != NULL ? caution : "");
  GtkWidget *body = new_label (text, NULL, TRUE);

  gtk_label_set_width_chars (GTK_LABEL (head), 15);
  gtk_label_set_max_width_chars (GTK_LABEL (head), 15);
  gtk_widget_set_valign (head, GTK_ALIGN_START);
  gtk_widget_set_hexpand (both, TRUE);
  gtk_container_add (GTK_CONTAINER (both), body);
  if (caution != NULL)
    gtk_container_add (GTK_CONTAINER (both), new_label (caution, "sw-caution", TRUE));
  gtk_container_add (GTK_CONTAINER (row), head);
  gtk_container_add (GTK_CONTAINER (row), both);
  gtk_container_add (GTK_CONTAINER (button), row);
  gtk_button_set_relief (GTK_BUTTON (button), GTK_RELIEF_NONE);
  gtk_style_context_add_class (gtk_widget_get_style_context (button), "sw-said");
  atk_object_set_name (gtk_widget_get_accessible (button), name);
  gtk_widget_set_sensitive (button, !sw_store_overview (self->store)->read_only);
  g_object_set_data_full (G_OBJECT (button), "sw-say", say, sw_say_unref);
  g_signal_connect (button, "clicked", G_CALLBACK (on_line), self);
  gtk_widget_show_all (button);
  gtk_container_add (GTK_CONTAINER (self->lines[group]), button);
}

static void
there (SwAboutBox *self, SwSayKind kind)
{
  self->missing &= ~(1u << kind);
}

/* "seen", "told by Ada" */
static char *
ground_of (const SwFact *fact)
{
  if (fact->by_whom != NULL && *fact->by_whom != '\0')
    return g_strdup_printf (_ ("%s by %s"), fact->source, fact->by_whom);
  return g_strdup (fact->source);
}

static SwSayKind
kind_of_fact (const SwFact *fact)
{
  static const struct
  {
    const char *kind;
    SwSayKind say;
  } kinds[] = {
    { SW_FACT_CONDITION, SW_SAY_CONDITION }, { SW_FACT_WRONG, SW_SAY_WRONG },
    { SW_FACT_STORY, SW_SAY_STORY },         { SW_FACT_BELONGS, SW_SAY_BELONGS },
    { SW_FACT_DANGER, SW_SAY_DANGER },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (strcmp (kinds[i].kind, fact->kind) == 0)
      return kinds[i].say;
  return SW_SAY_FACT;
}

static SwSay *
say_of_fact (const SwFact *fact, SwSayKind kind)
{
  SwSay *say = sw_say_new (kind, fact->item, fact->id);
  int i = 0;

  if (kind == SW_SAY_FACT)
    say->values[i++] = g_strdup (fact->kind);
  say->values[i++] = g_strdup (fact->text);
  if (kind == SW_SAY_BELONGS)
    say->values[i++]
        = fact->place != 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, fact->place) : g_strdup ("");
  say->values[i++] = g_strdup (fact->source);
  say->values[i] = g_strdup (fact->by_whom != NULL ? fact->by_whom : "");
  return say;
}

static void
add_fact (SwAboutBox *self, const SwFact *fact)
{
  SwSayKind kind = kind_of_fact (fact);
  g_autofree char *ground = ground_of (fact);
  g_autofree char *said = NULL;
  const SwDanger *danger = kind == SW_SAY_DANGER ? sw_danger_find (fact->text) : NULL;

  if (kind == SW_SAY_BELONGS)
    said = g_strdup_printf ("%s, %s", fact->text,
                            fact->place_path != NULL ? fact->place_path : _ ("nobody knows where"));
  else
    said = g_strdup (fact->text);
  if (kind == SW_SAY_CONDITION || kind == SW_SAY_WRONG || kind == SW_SAY_STORY)
    there (self, kind);
  add_line (self, GROUP_ABOUT, kind == SW_SAY_FACT ? fact->kind : _ (sw_say_spec (kind)->title),
            said, ground, danger != NULL ? _ (danger->caution) : NULL, say_of_fact (fact, kind));
}

static void
add_size (SwAboutBox *self, const SwItem *item)
{
  g_autoptr (GString) text = g_string_new (NULL);
  const gint64 mm[] = { item->length_mm, item->width_mm, item->height_mm };
  gboolean measured = FALSE;
  SwSay *say;

  if (item->size != SW_SIZE_UNKNOWN)
    g_string_append_printf (text, _ ("lifted by %s"), _ (sw_size_word (item->size)));
  if (item->stows != SW_STOWS_UNKNOWN)
    g_string_append_printf (text, "%s%s %s", text->len > 0 ? ", " : "", _ ("rides on"),
                            _ (sw_stows_word (item->stows)));
  for (gsize i = 0; i < G_N_ELEMENTS (mm); i++)
    if (mm[i] != 0)
      {
        g_string_append_printf (text, "%s%" G_GINT64_FORMAT,
                                measured        ? " × "
                                : text->len > 0 ? ", "
                                                : "",
                                mm[i]);
        measured = TRUE;
      }
  if (measured)
    g_string_append (text, " mm");
  if (text->len == 0)
    return;
  there (self, SW_SAY_SIZE);
  say = sw_say_new (SW_SAY_SIZE, item->id, 0);
  prefill (self, say);
  add_line (self, GROUP_ABOUT, _ ("Size"), text->str,
            measured ? (item->size_guessed ? _ ("guessed") : _ ("measured")) : NULL, NULL, say);
}

static void
add_mass (SwAboutBox *self, const SwItem *item)
{
  g_autofree char *mass = NULL, *ground = NULL;
  SwSay *say;

  if (!item->has_mass)
    return;
  there (self, SW_SAY_MASS);
  mass = sw_mass_to_text (item->mass);
  ground = item->mass_how != NULL ? g_strdup_printf ("%s: %s", item->mass_source, item->mass_how)
                                  : g_strdup (item->mass_source);
  say = sw_say_new (SW_SAY_MASS, item->id, 0);
  prefill (self, say);
  add_line (self, GROUP_ABOUT, _ ("Mass"), mass, ground, NULL, say);
}

static const char *
price_word (const char *kind)
{
  static const struct
  {
    const char *kind, *word;
  } words[] = {
    { "paid", N_ ("Paid") },
    { "new", N_ ("Price new") },
    { "like things", N_ ("Like things") },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (strcmp (words[i].kind, kind) == 0)
      return _ (words[i].word);
  return _ ("Price guessed");
}

static void
add_price (SwAboutBox *self, const SwPrice *price)
{
  g_autofree char *money = sw_store_money_with_code (self->store, price->amount);
  g_autofree char *day = price->has_day ? sw_day_written (price->day) : NULL;
  g_autoptr (GString) said = g_string_new (money);
  SwSay *say = sw_say_new (SW_SAY_PRICE, price->item, price->id);

  if (price->pieces > 1)
    g_string_append_printf (said, _ (" for %" PRId64), price->pieces);
  if (day != NULL)
    g_string_append_printf (said, ", %s", day);
  if (*price->remark != '\0')
    g_string_append_printf (said, ", %s", price->remark);
  say->values[0] = g_strdup (price->kind);
  say->values[1] = amount_text (TRUE, price->amount);
  say->values[2] = price->has_day ? sw_day_written (price->day) : g_strdup ("");
  say->values[3] = g_strdup (price->source);
  say->values[4] = g_strdup (price->remark);
  add_line (self, GROUP_WORTH, price_word (price->kind), said->str,
            *price->source != '\0' ? price->source : NULL, NULL, say);
}

static void
add_worth (SwAboutBox *self, const SwSheetData *data)
{
  const SwItem *item = data->item;
  g_autofree char *money = NULL, *floor = NULL;
  SwSay *say;

  for (guint i = 0; i < data->prices->len; i++)
    add_price (self, g_ptr_array_index (data->prices, i));
  if (item->has_reserve)
    {
      there (self, SW_SAY_RESERVE);
      money = sw_store_money_with_code (self->store, item->reserve);
      say = sw_say_new (SW_SAY_RESERVE, item->id, 0);
      prefill (self, say);
      add_line (self, GROUP_WORTH, _ ("Reserve"), money, NULL, NULL, say);
    }
  if (item->scrap_class == NULL)
    {
      there (self, SW_SAY_RATE);
      return;
    }
  there (self, SW_SAY_SCRAP);
  floor = data->floor.known ? sw_store_money_with_code (self->store, data->floor.floor) : NULL;
  say = sw_say_new (SW_SAY_SCRAP, item->id, 0);
  prefill (self, say);
  add_line (self, GROUP_WORTH, _ ("Scrap floor"), floor != NULL ? floor : data->floor.words,
            floor != NULL ? data->floor.words : NULL, NULL, say);
}

static void
add_question (SwAboutBox *self, const SwQuestion *question)
{
  g_autoptr (GString) said = g_string_new (question->text);
  SwSay *say = sw_say_new (SW_SAY_ANSWER, question->item, question->id);
  gboolean answered = question->answer != NULL;
  const char *who = answered ? question->answered_by : question->person;
  g_autofree char *by = question->has_by && !answered ? sw_day_written (question->by) : NULL;

  if (answered)
    g_string_append_printf (said, " %s", question->answer);
  if (by != NULL)
    g_string_append_printf (said, _ (" by %s"), by);
  if (question->asked && !answered)
    g_string_append (said, _ (", asked"));
  say->values[0] = g_strdup (answered ? question->answer : "");
  say->values[1] = g_strdup (who != NULL ? who : "");
  add_line (self, GROUP_ASK, answered ? _ ("Answered") : _ ("Question"), said->str,
            who != NULL && *who != '\0' ? who : NULL, NULL, say);
}

static void
add_claim (SwAboutBox *self, const SwClaimSaid *claim)
{
  static const char *const words[SW_N_CLAIMS]
      = { N_ ("does not want it"), N_ ("has still to say"), N_ ("wants it") };
  SwSay *say = sw_say_new (SW_SAY_CLAIM, claim->item, 0);
  g_autofree char *said = NULL;

  say->values[0] = g_strdup (claim->person);
  say->values[1] = g_strdup (sw_claim_key (claim->says));
  said = g_strdup_printf ("%s %s", *claim->person != '\0' ? claim->person : _ ("Somebody"),
                          _ (words[claim->says]));
  add_line (self, GROUP_ASK, _ ("Claim"), said, NULL, NULL, say);
}

static void
on_job_done (GtkToggleButton *check, SwAboutBox *self)
{
  const gint64 *id = g_object_get_data (G_OBJECT (check), "sw-job");

  sw_act_job_done (self->store, *id, gtk_toggle_button_get_active (check));
}

static void
on_job_withdrawn (GtkButton *button, SwAboutBox *self)
{
  const gint64 *id = g_object_get_data (G_OBJECT (button), "sw-job");

  sw_act_job_withdraw (self->store, *id);
}

static void
add_job (SwAboutBox *self, const SwJob *job)
{
  g_autoptr (GString) text = g_string_new (job->kind);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *check, *drop;

  if (*job->text != '\0')
    g_string_append_printf (text, ": %s", job->text);
  if (*job->tools != '\0')
    g_string_append_printf (text, _ (", with %s"), job->tools);
  if (job->hands > 1)
    g_string_append_printf (text, _ (", %" PRId64 " people"), job->hands);
  check = gtk_check_button_new_with_label (text->str);
  gtk_label_set_line_wrap (GTK_LABEL (gtk_bin_get_child (GTK_BIN (check))), TRUE);
  gtk_label_set_xalign (GTK_LABEL (gtk_bin_get_child (GTK_BIN (check))), 0);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (check), job->done);
  gtk_widget_set_tooltip_text (check, _ ("Done"));
  g_object_set_data_full (G_OBJECT (check), "sw-job", g_memdup2 (&job->id, sizeof job->id), g_free);
  g_signal_connect (check, "toggled", G_CALLBACK (on_job_done), self);
  drop = gtk_button_new_with_label (_ ("Withdraw"));
  gtk_button_set_relief (GTK_BUTTON (drop), GTK_RELIEF_NONE);
  g_object_set_data_full (G_OBJECT (drop), "sw-job", g_memdup2 (&job->id, sizeof job->id), g_free);
  g_signal_connect (drop, "clicked", G_CALLBACK (on_job_withdrawn), self);
  gtk_box_pack_start (GTK_BOX (row), check, TRUE, TRUE, 0);
  gtk_box_pack_end (GTK_BOX (row), drop, FALSE, FALSE, 0);
  gtk_widget_show_all (row);
  gtk_container_add (GTK_CONTAINER (self->lines[GROUP_DO]), row);
}

static void
on_never (SwAboutBox *self)
{
  if (self->data != NULL)
    sw_act_item_never_offer (self->store, self->item, !self->data->item->never_offer);
}

/* ---- 'add' buttons ---- */

static GtkWidget *
add_button (SwAboutBox *self, Group group, const char *text)
{
  GtkWidget *button = gtk_button_new_with_label (text), *child;

  gtk_button_set_relief (GTK_BUTTON (button), GTK_RELIEF_NONE);
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_style_context_add_class (gtk_widget_get_style_context (button), "sw-add");
  gtk_container_add (GTK_CONTAINER (self->adds[group]), button);
  child = gtk_widget_get_parent (button);
  gtk_widget_set_can_focus (child, FALSE);
  atk_object_set_role (gtk_widget_get_accessible (child), ATK_ROLE_FILLER);
  gtk_widget_show_all (child);
  return button;
}

static void
fill_adds (SwAboutBox *self)
{
  gboolean read_only = sw_store_overview (self->store)->read_only;
  GtkWidget *never;

  for (int group = 0; group < N_GROUPS; group++)
    {
      sw_container_empty (self->adds[group]);
      gtk_widget_set_sensitive (self->adds[group], !read_only);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (places_of_kinds); i++)
    {
      SwSayKind kind = places_of_kinds[i].kind;
      g_autofree char *text = g_strdup_printf ("+ %s", _ (sw_say_spec (kind)->title));
      GtkWidget *button;
      if ((self->missing & (1u << kind)) == 0)
        continue;
      button = add_button (self, places_of_kinds[i].group, text);
      g_object_set_data (G_OBJECT (button), "sw-kind", GINT_TO_POINTER (kind));
      g_signal_connect (button, "clicked", G_CALLBACK (on_add), self);
    }
  never = add_button (self, GROUP_ABOUT,
                      self->data->item->never_offer ? _ ("It is cleared")
                                                    : _ ("+ Never offer before cleared"));
  g_signal_connect_swapped (never, "clicked", G_CALLBACK (on_never), self);
}

/* The button that the keyboard is on, by its name: it is made anew with the rest. */
static char *
focused_name (SwAboutBox *self)
{
  GtkWidget *top = gtk_widget_get_toplevel (GTK_WIDGET (self));
  GtkWidget *focus = GTK_IS_WINDOW (top) ? gtk_window_get_focus (GTK_WINDOW (top)) : NULL;

  if (focus == NULL || !gtk_widget_is_ancestor (focus, GTK_WIDGET (self))
      || (self->form != NULL && gtk_widget_is_ancestor (focus, self->form)))
    return NULL;
  return g_strdup (atk_object_get_name (gtk_widget_get_accessible (focus)));
}

static void
focus_again (GtkWidget *widget, gpointer name)
{
  if (GTK_IS_BUTTON (widget)
      && g_strcmp0 (atk_object_get_name (gtk_widget_get_accessible (widget)), name) == 0)
    gtk_widget_grab_focus (widget);
  else if (GTK_IS_CONTAINER (widget) && !SW_IS_SAY_FORM (widget))
    gtk_container_foreach (GTK_CONTAINER (widget), focus_again, name);
}

void
sw_about_box_show (SwAboutBox *self, const SwSheetData *data)
{
  g_autofree char *focused = focused_name (self);

  if (self->item != data->item->id)
    sw_about_box_leave (self);
  self->item = data->item->id;
  self->data = data;
  self->missing = ((1u << SW_SAY_BREAK_UP) - 1) & ~(1u << SW_SAY_ANSWER);
  for (int group = 0; group < N_GROUPS; group++)
    sw_container_empty (self->lines[group]);
  for (guint i = 0; i < data->facts->len; i++)
    add_fact (self, g_ptr_array_index (data->facts, i));
  add_size (self, data->item);
  add_mass (self, data->item);
  add_worth (self, data);
  for (guint i = 0; i < data->questions->len; i++)
    add_question (self, g_ptr_array_index (data->questions, i));
  for (guint i = 0; i < data->claims->len; i++)
    add_claim (self, g_ptr_array_index (data->claims, i));
  for (guint i = 0; i < data->jobs->len; i++)
    add_job (self, g_ptr_array_index (data->jobs, i));
  fill_adds (self);
  if (focused != NULL)
    focus_again (GTK_WIDGET (self), focused);
}

/* ---- object ---- */

static void
make_group (SwAboutBox *self, int group)
{
  GtkWidget *heading = sw_container_add_line (GTK_WIDGET (self), _ (headings[group]), "sw-heading");

  gtk_widget_set_margin_top (heading, group == 0 ? 0 : 10);
  self->lines[group] = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->slots[group] = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  self->adds[group] = gtk_flow_box_new ();
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (self->adds[group]), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (self->adds[group]), 8);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (self->adds[group]), 4);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (self->adds[group]), 4);
  gtk_widget_set_can_focus (self->adds[group], FALSE);
  atk_object_set_name (gtk_widget_get_accessible (self->adds[group]), _ (headings[group]));
  atk_object_set_role (gtk_widget_get_accessible (self->adds[group]), ATK_ROLE_PANEL);
  gtk_container_add (GTK_CONTAINER (self), self->lines[group]);
  gtk_container_add (GTK_CONTAINER (self), self->slots[group]);
  gtk_container_add (GTK_CONTAINER (self), self->adds[group]);
  gtk_widget_show (self->lines[group]);
  gtk_widget_show (self->adds[group]);
}

static void
sw_about_box_dispose (GObject *object)
{
  SwAboutBox *self = SW_ABOUT_BOX (object);

  if (self->store != NULL)
    sw_about_box_leave (self);
  self->data = NULL;
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_about_box_parent_class)->dispose (object);
}

static void
sw_about_box_class_init (SwAboutBoxClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_about_box_dispose;
}

static void
sw_about_box_init (SwAboutBox *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 4);
  for (int group = 0; group < N_GROUPS; group++)
    make_group (self, group);
}

void
sw_about_box_set_store (SwAboutBox *self, SwStore *store)
{
  g_set_object (&self->store, store);
}
