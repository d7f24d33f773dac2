/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The slides are read once on the catalogue thread; pictures come from the decode helper. What an
 * answer means is core's. */
#include "app/slide-show.h"

#include <string.h>

#include "app/closer-pixels.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/answers.h"
#include "core/catalogue/items.h"

typedef struct
{
  gint64 item, photo; /* photo 0: none */
  char *name, *place;
  SwState state;
  SwAnswerSays said; /* in this show; NOTHING: nothing yet, or not known any more */
} Slide;

static void
slide_free (gpointer data)
{
  Slide *slide = data;

  g_free (slide->name);
  g_free (slide->place);
  g_free (slide);
}

typedef struct
{
  SwStore *store;
  SwCloserPixels *pixels;
  GPtrArray *slides; /* Slide; at least one */
  char *who;         /* NULL: nobody answers */
  guint at;
  GtkWidget *window, *count, *picture, *name, *icon, *where, *said, *back, *next;
} Show;

/* ---- which things ---- */

typedef struct
{
  gint64 place, trip; /* 0: all */
} Choice;

/* Place by place, as somebody walks past them. */
static gpointer
read_slides (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Choice *choice = data;
  const SwItemFilter filter = {
    .place = choice->place, .places_inside = TRUE, .trip = choice->trip, .order = SW_ITEMS_BY_PLACE
  };
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);
  GPtrArray *slides;

  if (items == NULL)
    return NULL;
  slides = g_ptr_array_new_with_free_func (slide_free);
  for (guint i = 0; i < items->len; i++)
    {
      const SwItem *item = g_ptr_array_index (items, i);
      Slide *slide;

      if (!sw_state_stands (item->state))
        continue;
      slide = g_new0 (Slide, 1);
      *slide = (Slide){ .item = item->id,
                        .photo = item->first_photo,
                        .place = g_strdup (item->place_path),
                        .state = item->state };
      slide->name = item->count > 1
                        ? g_strdup_printf ("%" G_GINT64_FORMAT " x %s", item->count, item->name)
                        : g_strdup (item->name);
      g_ptr_array_add (slides, slide);
    }
  return slides;
}

/* ---- what is shown ---- */

static const Slide *
current (const Show *show)
{
  return g_ptr_array_index (show->slides, show->at);
}

static void
want_pixels (const Show *show)
{
  const int order[] = { 0, 1, -1 };
  SwCloserWish wishes[G_N_ELEMENTS (order)] = { 0 };
  guint n = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    {
      gint64 at = (gint64)show->at + order[i];
      const Slide *slide = at >= 0 && at < (gint64)show->slides->len
                               ? g_ptr_array_index (show->slides, (guint)at)
                               : NULL;

      if (slide != NULL && slide->photo != 0)
        wishes[n++].photo = slide->photo;
    }
  sw_closer_pixels_set_wishes (show->pixels, wishes, n);
}

static void
show_said (const Show *show)
{
  g_autofree char *said
      = current (show)->said != SW_ANSWER_NOTHING
            ? g_strdup_printf ("%s: %s", show->who, _ (sw_answer_says_shown (current (show)->said)))
            : g_strdup ("");

  gtk_label_set_text (GTK_LABEL (show->said), said);
}

static void
show_slide (Show *show)
{
  const Slide *slide = current (show);
  g_autofree char *count = g_strdup_printf (_ ("%u of %u"), show->at + 1, show->slides->len);
  g_autofree char *where
      = g_strdup_printf (_ ("%s, in %s"), _ (sw_state_word (slide->state)), slide->place);
  g_autofree char *picture = slide->photo != 0 ? g_strdup_printf (_ ("Photo of %s"), slide->name)
                                               : g_strdup (_ ("There is no photo of it"));

  gtk_label_set_text (GTK_LABEL (show->count), count);
  gtk_label_set_text (GTK_LABEL (show->name), slide->name);
  gtk_label_set_text (GTK_LABEL (show->where), where);
  show_said (show);
  gtk_image_set_from_icon_name (GTK_IMAGE (show->icon), sw_state_icon (slide->state),
                                GTK_ICON_SIZE_BUTTON);
  atk_object_set_name (gtk_widget_get_accessible (show->picture), picture);
  gtk_widget_set_sensitive (show->back, show->at > 0);
  gtk_widget_set_sensitive (show->next, show->at + 1 < show->slides->len);
  want_pixels (show);
  gtk_widget_queue_draw (show->picture);
}

static gboolean
on_draw (GtkWidget *widget, cairo_t *cr, Show *show)
{
  const SwCloserPart *part = current (show)->photo != 0
                                 ? sw_closer_pixels_whole (show->pixels, current (show)->photo)
                                 : NULL;
  double width = gtk_widget_get_allocated_width (widget),
         height = gtk_widget_get_allocated_height (widget), scale;

  if (part == NULL)
    return FALSE;
  scale = MIN (width / part->width, height / part->height);
  cairo_translate (cr, (width - part->width * scale) / 2, (height - part->height * scale) / 2);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, part->surface, 0, 0);
  cairo_paint (cr);
  return FALSE;
}

static void
on_loaded (SwCloserPixels *pixels, gint64 photo, Show *show)
{
  if (photo == current (show)->photo)
    gtk_widget_queue_draw (show->picture);
}

/* ---- going through ---- */

static void
go (Show *show, int step)
{
  if ((step < 0 && show->at == 0) || (step > 0 && show->at + 1 >= show->slides->len))
    return;
  show->at = (guint)((int)show->at + step);
  show_slide (show);
}

static void
on_back (GtkWidget *button, Show *show)
{
  go (show, -1);
}

static void
on_next (GtkWidget *button, Show *show)
{
  go (show, 1);
}

/* ---- answers ---- */

typedef struct
{
  char *who;
  gint64 item;
  SwAnswerSays says;
} Said;

static void
said_free (gpointer data)
{
  g_free (((Said *)data)->who);
  g_free (data);
}

static gboolean
do_answer (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Said *said = data;
  g_autoptr (SwAnswers) answers = g_new0 (SwAnswers, 1);
  g_autoptr (SwAnswersReport) report = NULL;
  SwAnswer *answer = g_new0 (SwAnswer, 1);

  *answer = (SwAnswer){ said->item, 0, said->says, g_strdup ("") };
  answers->answers = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_answer_free);
  g_ptr_array_add (answers->answers, answer);
  report = sw_answers_take (catalogue, answers, said->who, error);
  return report != NULL;
}

/* What the next look at a slide would say may not hold any more. */
static void
forget_said (Show *show)
{
  for (guint i = 0; i < show->slides->len; i++)
    ((Slide *)g_ptr_array_index (show->slides, i))->said = SW_ANSWER_NOTHING;
}

#define SHOW "sw-show"
/* It stands: where the slide is still the one that was answered, it is said there. */
static void
on_answered (gpointer window, gboolean done)
{
  Show *show = g_object_get_data (window, SHOW);

  if (done)
    show_said (show);
  else
    forget_said (show);
}

static void
take_answer (Show *show, SwAnswerSays says)
{
  Said *said;

  if (show->who == NULL)
    return;
  said = g_new0 (Said, 1);
  *said = (Said){ g_strdup (show->who), current (show)->item, says };
  ((Slide *)g_ptr_array_index (show->slides, show->at))->said = says;
  sw_store_act (show->store, do_answer, said, said_free, G_OBJECT (show->window), on_answered);
}

/* What the window would say at its foot is said here, since its foot is covered. */
static void
on_told (SwStore *store, const char *sentence, gboolean can_undo, gboolean is_problem, Show *show)
{
  gtk_label_set_text (GTK_LABEL (show->said), sentence);
}

#define SAYS "sw-says"

static void
on_answer (GtkWidget *button, Show *show)
{
  take_answer (show, GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), SAYS)));
}

static const struct
{
  guint key;
  SwAnswerSays says;
  const char *label;
} answers[] = {
  { GDK_KEY_m, SW_ANSWER_MINE, N_ ("_Mine") },
  { GDK_KEY_k, SW_ANSWER_KEEP, N_ ("_Keep") },
  { GDK_KEY_s, SW_ANSWER_SELL, N_ ("_Sell") },
  { GDK_KEY_d, SW_ANSWER_UNSURE, N_ ("_Don't know") },
};

static gboolean
on_key (GtkWidget *window, GdkEventKey *event, Show *show)
{
  guint held = event->state & gtk_accelerator_get_default_mod_mask ();
  guint letter = gdk_keyval_to_lower (event->keyval);

  if (held == GDK_CONTROL_MASK && letter == GDK_KEY_z)
    {
      forget_said (show);
      sw_store_undo (show->store);
      return TRUE;
    }
  if (held != 0)
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (answers); i++)
    if (answers[i].key == letter)
      {
        take_answer (show, answers[i].says);
        return TRUE;
      }
  switch (event->keyval)
    {
    case GDK_KEY_Right:
    case GDK_KEY_space:
    case GDK_KEY_Page_Down:
      go (show, 1);
      return TRUE;
    case GDK_KEY_Left:
    case GDK_KEY_Page_Up:
      go (show, -1);
      return TRUE;
    case GDK_KEY_Escape:
      gtk_widget_destroy (window);
      return TRUE;
    default:
      return FALSE;
    }
}

/* ---- the window ---- */

static void
on_destroy (GtkWidget *window, Show *show)
{
  g_signal_handlers_disconnect_by_data (show->pixels, show);
  g_signal_handlers_disconnect_by_data (show->store, show);
  g_object_unref (show->pixels);
  g_object_unref (show->store);
  g_ptr_array_unref (show->slides);
  g_free (show->who);
  g_free (show);
}

static GtkWidget *
add_button (GtkWidget *box, const char *label, GCallback clicked, gpointer data)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  g_signal_connect (button, "clicked", clicked, data);
  gtk_container_add (GTK_CONTAINER (box), button);
  return button;
}

static void
add_answers (Show *show, GtkWidget *box)
{
  g_autofree char *who = NULL;
  GtkWidget *row, *line;

  if (show->who == NULL)
    return;
  row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  who = g_strdup_printf (_ ("%s says:"), show->who);
  line = sw_container_add_line (box, who, NULL);
  gtk_label_set_xalign (GTK_LABEL (line), 0.5F);
  gtk_widget_set_halign (row, GTK_ALIGN_CENTER);
  for (gsize i = 0; i < G_N_ELEMENTS (answers); i++)
    {
      GtkWidget *button = add_button (row, _ (answers[i].label), G_CALLBACK (on_answer), show);

      g_object_set_data (G_OBJECT (button), SAYS, GINT_TO_POINTER ((int)answers[i].says));
    }
  gtk_container_add (GTK_CONTAINER (box), row);
}

static void
add_words (Show *show, GtkWidget *box)
{
  GtkWidget *state = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  show->name = sw_container_add_line (box, "", "sw-title");
  show->icon = gtk_image_new ();
  gtk_container_add (GTK_CONTAINER (state), show->icon);
  show->where = sw_container_add_line (state, "", NULL);
  gtk_widget_set_halign (state, GTK_ALIGN_CENTER);
  gtk_container_add (GTK_CONTAINER (box), state);
  add_answers (show, box);
  show->said = sw_container_add_line (box, "", NULL);
  gtk_label_set_xalign (GTK_LABEL (show->name), 0.5F);
  gtk_label_set_xalign (GTK_LABEL (show->said), 0.5F);
}

static void
add_foot (Show *show, GtkWidget *box)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *leave = gtk_button_new_with_mnemonic (_ ("L_eave"));

  g_signal_connect_swapped (leave, "clicked", G_CALLBACK (gtk_widget_destroy), show->window);
  gtk_container_add (GTK_CONTAINER (row), leave);
  show->count = sw_container_add_line (row, "", NULL);
  gtk_label_set_xalign (GTK_LABEL (show->count), 0.5F);
  gtk_widget_set_hexpand (show->count, TRUE);
  show->back = add_button (row, _ ("_Back"), G_CALLBACK (on_back), show);
  show->next = add_button (row, _ ("_Next"), G_CALLBACK (on_next), show);
  gtk_container_add (GTK_CONTAINER (box), row);
}

static void
open_window (Show *show, GtkWindow *parent)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);

  show->window = gtk_window_new (GTK_WINDOW_TOPLEVEL);
  g_object_set_data (G_OBJECT (show->window), SHOW, show);
  gtk_window_set_title (GTK_WINDOW (show->window), _ ("Slide show"));
  gtk_window_set_transient_for (GTK_WINDOW (show->window), parent);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (show->window), TRUE);
  gtk_window_set_modal (GTK_WINDOW (show->window), TRUE);
  gtk_style_context_add_class (gtk_widget_get_style_context (show->window), "sw-slides");
  gtk_container_set_border_width (GTK_CONTAINER (box), 12);
  show->picture = gtk_drawing_area_new ();
  atk_object_set_role (gtk_widget_get_accessible (show->picture), ATK_ROLE_IMAGE);
  gtk_widget_set_vexpand (show->picture, TRUE);
  g_signal_connect (show->picture, "draw", G_CALLBACK (on_draw), show);
  gtk_container_add (GTK_CONTAINER (box), show->picture);
  add_words (show, box);
  add_foot (show, box);
  gtk_container_add (GTK_CONTAINER (show->window), box);
  g_signal_connect (show->pixels, "loaded", G_CALLBACK (on_loaded), show);
  g_signal_connect (show->store, "told", G_CALLBACK (on_told), show);
  g_signal_connect (show->window, "key-press-event", G_CALLBACK (on_key), show);
  g_signal_connect (show->window, "destroy", G_CALLBACK (on_destroy), show);
  gtk_widget_show_all (show->window);
  show_slide (show);
  gtk_widget_grab_focus (show->next);
  gtk_window_fullscreen (GTK_WINDOW (show->window));
}

/* ---- asking ---- */

typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
  GtkWidget *what, *who;
  char *name;
} Form;

static void
form_free (Form *form)
{
  g_clear_weak_pointer (&form->parent);
  g_object_unref (form->store);
  g_free (form->name);
  g_free (form);
}

static void
on_slides (GObject *object, GAsyncResult *result, gpointer data)
{
  Form *form = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) slides = sw_store_finish (form->store, result, &error);

  if (slides == NULL)
    sw_store_tell (form->store, error->message, TRUE);
  else if (slides->len == 0)
    sw_store_tell (form->store, _ ("Nothing stands there that could be shown."), TRUE);
  else if (form->parent != NULL)
    {
      Show *show = g_new0 (Show, 1);

      show->store = g_object_ref (form->store);
      show->slides = g_steal_pointer (&slides);
      show->who = g_steal_pointer (&form->name);
      show->pixels = sw_closer_pixels_new (sw_store_picture_source (form->store));
      open_window (show, form->parent);
    }
  form_free (form);
}

/* "p12" is a place, "t3" a trip, anything else all. */
static Choice
choice_of (GtkWidget *combo)
{
  const char *id = gtk_combo_box_get_active_id (GTK_COMBO_BOX (combo));
  gint64 number = id != NULL ? g_ascii_strtoll (id + 1, NULL, 10) : 0;

  return (Choice){ .place = id != NULL && *id == 'p' ? number : 0,
                   .trip = id != NULL && *id == 't' ? number : 0 };
}

static void
on_response (GtkDialog *dialog, int response, Form *form)
{
  const Choice choice = choice_of (form->what);
  const char *typed = gtk_entry_get_text (GTK_ENTRY (form->who));
  gboolean blank = strspn (typed, " \t") == strlen (typed);

  form->name = blank || sw_store_overview (form->store)->read_only ? NULL : g_strdup (typed);
  gtk_widget_destroy (GTK_WIDGET (dialog));
  if (response != GTK_RESPONSE_OK)
    {
      form_free (form);
      return;
    }
  sw_store_read (form->store, SW_RANK_KEY, read_slides, g_memdup2 (&choice, sizeof choice), g_free,
                 (GDestroyNotify)g_ptr_array_unref, NULL, on_slides, form);
}

static GtkWidget *
what_new (SwStore *store)
{
  const SwOverview *overview = sw_store_overview (store);
  GtkWidget *combo = gtk_combo_box_text_new ();

  gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (combo), "all", _ ("All that stands"));
  for (guint i = 0; i < overview->places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (overview->places, i);
      g_autofree char *id = g_strdup_printf ("p%" G_GINT64_FORMAT, place->id);

      gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (combo), id, place->path);
    }
  for (guint i = 0; i < overview->trips->len; i++)
    {
      const SwTrip *trip = g_ptr_array_index (overview->trips, i);
      g_autofree char *id = g_strdup_printf ("t%" G_GINT64_FORMAT, trip->id);
      g_autofree char *text = g_strdup_printf (_ ("Trip %d, %s"), (int)trip->id, trip->title);

      gtk_combo_box_text_append (GTK_COMBO_BOX_TEXT (combo), id, text);
    }
  gtk_combo_box_set_active (GTK_COMBO_BOX (combo), 0);
  sw_combo_ellipsize (combo);
  return combo;
}

static void
attach (GtkWidget *grid, const char *text, GtkWidget *field, int row)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (text);

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), field);
  gtk_widget_set_hexpand (field, TRUE);
  gtk_grid_attach (GTK_GRID (grid), label, 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), field, 1, row, 1, 1);
}

void
sw_slide_show_ask (GtkWindow *parent, SwStore *store)
{
  Form *form = g_new0 (Form, 1);
  GtkWidget *dialog = gtk_dialog_new_with_buttons (
      _ ("Slide show"), parent,
      GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR, _ ("_Cancel"),
      GTK_RESPONSE_CANCEL, _ ("_Show them"), GTK_RESPONSE_OK, NULL);
  GtkWidget *grid = gtk_grid_new ();

  gtk_window_set_default_size (GTK_WINDOW (dialog), 430, -1);
  form->store = g_object_ref (store);
  g_set_weak_pointer (&form->parent, parent);
  form->what = what_new (store);
  form->who = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (form->who), _ ("nobody: nothing is written down"));
  gtk_entry_set_activates_default (GTK_ENTRY (form->who), TRUE);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 10);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  gtk_container_set_border_width (GTK_CONTAINER (grid), 18);
  attach (grid, _ ("_Things"), form->what, 0);
  attach (grid, _ ("_Who answers"), form->who, 1);
  gtk_container_add (GTK_CONTAINER (gtk_dialog_get_content_area (GTK_DIALOG (dialog))), grid);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_OK);
  g_signal_connect (dialog, "response", G_CALLBACK (on_response), form);
  gtk_widget_show_all (dialog);
}
