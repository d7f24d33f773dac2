/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A shift is written as a clock would show it, hours:minutes:seconds with a sign; plain seconds are
 * taken too. Setting one pairs the trip anew in the same act. */
#include "app/clocks-form.h"

#include <math.h>
#include <stdio.h>

#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/act.h"
#include "core/catalogue/photos.h"
#include "core/match/pairing.h"

struct _SwClocksForm
{
  GtkPopover parent;
  SwStore *store;
  gint64 trip;
  GCancellable *cancellable;
  GtkWidget *rows, *problem;
};

G_DEFINE_TYPE (SwClocksForm, sw_clocks_form, GTK_TYPE_POPOVER)

/* A camera with photos on the trip, and its clock there. */
typedef struct
{
  gint64 camera;
  char *label;
  gint64 photos;
  gboolean known;
  SwCameraClock clock;
} Row;

static void
row_free (gpointer data)
{
  Row *row = data;
  g_free (row->label);
  g_free (row);
}

/* "+1:00:00", "-0:00:40" */
static char *
shift_text (double shift_s)
{
  gint64 seconds = (gint64)round (fabs (shift_s));

  return g_strdup_printf ("%c%" G_GINT64_FORMAT ":%02d:%02d", shift_s < 0 ? '-' : '+',
                          seconds / 3600, (int)(seconds / 60 % 60), (int)(seconds % 60));
}

/* Half a century either way is more than any camera is off. */
#define LONGEST_HOURS 440000

static gboolean
parse_shift (const char *text, double *out_shift)
{
  gboolean minus = *text == '-';
  int hours, minutes, seconds, end = 0;

  if (*text == '+' || *text == '-')
    text++;
  if (!g_ascii_isdigit (*text))
    return FALSE;
  if (sscanf (text, "%7d:%2d:%2d%n", &hours, &minutes, &seconds, &end) == 3 && text[end] == '\0')
    {
      if (hours > LONGEST_HOURS || minutes < 0 || minutes > 59 || seconds < 0 || seconds > 59)
        return FALSE;
      *out_shift = hours * 3600.0 + minutes * 60 + seconds;
    }
  else
    {
      gint64 whole;
      if (!g_ascii_string_to_signed (text, 10, 0, LONGEST_HOURS * 3600LL, &whole, NULL))
        return FALSE;
      *out_shift = (double)whole;
    }
  if (minus)
    *out_shift = -*out_shift;
  return TRUE;
}

/* ---- acts ---- */

typedef struct
{
  gint64 camera, trip;
  char *label;
  gboolean automatic;
  double shift_s;
} Setting;

static void
setting_free (gpointer data)
{
  Setting *setting = data;
  g_free (setting->label);
  g_free (setting);
}

static gboolean
setting_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Setting *setting = data;
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwPairing) pairing = NULL;
  g_autofree char *camera = g_strdup_printf ("%" G_GINT64_FORMAT, setting->camera);
  g_autofree char *shift = shift_text (setting->shift_s);
  g_autofree char *sentence
      = setting->automatic ? g_strdup_printf (_ ("%s: clock left to the program"), setting->label)
                           : g_strdup_printf (_ ("%s: clock set to %s"), setting->label, shift);

  if (!sw_act_begin (&act, catalogue, error)
      || !sw_clock_set (catalogue, camera, setting->trip, 0,
                        setting->automatic ? NULL : &setting->shift_s, error))
    return FALSE;
  pairing = sw_pairing_run (catalogue, setting->trip, NULL, error);
  return pairing != NULL && sw_act_commit (&act, sentence, error);
}

static void
send (SwClocksForm *self, GtkWidget *widget, gboolean automatic, double shift_s)
{
  const Row *row = g_object_get_data (G_OBJECT (widget), "sw-row");
  Setting *setting = g_new0 (Setting, 1);

  setting->camera = row->camera;
  setting->trip = self->trip;
  setting->label = g_strdup (row->label);
  setting->automatic = automatic;
  setting->shift_s = shift_s;
  gtk_widget_hide (self->problem);
  sw_store_act (self->store, setting_run, setting, setting_free, NULL, NULL);
}

static void
on_set (GtkWidget *entry, SwClocksForm *self)
{
  double shift;

  if (parse_shift (gtk_entry_get_text (GTK_ENTRY (entry)), &shift))
    send (self, entry, FALSE, shift);
  else
    gtk_widget_show (self->problem);
}

static void
on_set_clicked (GtkWidget *button, SwClocksForm *self)
{
  on_set (g_object_get_data (G_OBJECT (button), "sw-entry"), self);
}

static void
on_leave (GtkWidget *button, SwClocksForm *self)
{
  send (self, button, TRUE, 0);
}

/* ---- what is there ---- */

/* What the found shift rests on. */
static char *
evidence_text (const SwCameraClock *clock)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  char *text;

  if (clock->faces > 0)
    g_ptr_array_add (parts, sw_text_count (clock->faces, _ ("clock read in a picture"),
                                           _ ("clocks read in pictures")));
  if (clock->notes > 0)
    g_ptr_array_add (parts, sw_text_count (clock->notes, _ ("field note"), _ ("field notes")));
  if (clock->fixes > 0)
    g_ptr_array_add (parts, sw_text_count (clock->fixes, _ ("position fix"), _ ("position fixes")));
  if (clock->beside > 0)
    g_ptr_array_add (parts, sw_text_count (clock->beside, _ ("photo beside another camera’s"),
                                           _ ("photos beside another camera’s")));
  g_ptr_array_add (parts, NULL);
  text = g_strjoinv (", ", (char **)parts->pdata);
  return text;
}

static char *
row_text (const Row *row)
{
  g_autofree char *photos = sw_text_count (row->photos, _ ("photo"), _ ("photos"));
  g_autofree char *shift = shift_text (row->clock.shift_s);
  g_autofree char *other = shift_text (row->clock.other_s);
  g_autofree char *evidence = evidence_text (&row->clock);
  g_autoptr (GString) text = g_string_new (NULL);

  if (!row->known)
    return g_strdup_printf (_ ("%s: nothing tells how its clock went; taken as right"), photos);
  if (row->clock.set_by_person)
    return g_strdup_printf (_ ("%s: %s, as you set it"), photos, shift);
  g_string_append_printf (text, _ ("%s: %s found, give or take %.0f s, from %s"), photos, shift,
                          ceil (row->clock.spread_s), evidence);
  if (row->clock.other_share > 0)
    g_string_append_printf (text, _ ("; it could also be %s (%.0f%%)"), other,
                            100 * row->clock.other_share);
  if (row->clock.drift_s_day != 0)
    g_string_append_printf (text,
                            row->clock.drift_s_day > 0 ? _ ("; it loses %.1f s a day")
                                                       : _ ("; it gains %.1f s a day"),
                            fabs (row->clock.drift_s_day));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
add_row (SwClocksForm *self, const Row *row)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *entry = gtk_entry_new (), *set = gtk_button_new_with_label (_ ("Set"));
  GtkWidget *leave = gtk_button_new_with_label (_ ("Leave to the program")), *label;
  g_autofree char *text = row_text (row);
  g_autofree char *shift = shift_text (row->known ? row->clock.shift_s : 0);
  g_autofree char *name = g_strdup_printf (_ ("Added to the clock of %s"), row->label);
  Row *kept = g_new0 (Row, 1);

  kept->camera = row->camera;
  kept->label = g_strdup (row->label);
  g_object_set_data_full (G_OBJECT (line), "sw-row", kept, row_free);
  g_object_set_data (G_OBJECT (entry), "sw-row", kept);
  g_object_set_data (G_OBJECT (leave), "sw-row", kept);
  g_object_set_data (G_OBJECT (set), "sw-entry", entry);
  label = sw_container_add_line (self->rows, row->label, "sw-state");
  gtk_label_set_max_width_chars (GTK_LABEL (label), 40);
  label = sw_container_add_line (self->rows, text, NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 40);
  gtk_entry_set_text (GTK_ENTRY (entry), shift);
  gtk_entry_set_width_chars (GTK_ENTRY (entry), 10);
  atk_object_set_name (gtk_widget_get_accessible (entry), name);
  g_signal_connect (entry, "activate", G_CALLBACK (on_set), self);
  g_signal_connect (set, "clicked", G_CALLBACK (on_set_clicked), self);
  g_signal_connect (leave, "clicked", G_CALLBACK (on_leave), self);
  gtk_widget_set_sensitive (leave, row->known && row->clock.set_by_person);
  gtk_container_add (GTK_CONTAINER (line), entry);
  gtk_container_add (GTK_CONTAINER (line), set);
  gtk_container_add (GTK_CONTAINER (line), leave);
  gtk_widget_set_margin_bottom (line, 8);
  gtk_container_add (GTK_CONTAINER (self->rows), line);
  gtk_widget_show_all (line);
}

static Row *
row_of (GPtrArray *rows, gint64 camera)
{
  for (guint i = 0; i < rows->len; i++)
    if (((Row *)g_ptr_array_index (rows, i))->camera == camera)
      return g_ptr_array_index (rows, i);
  return NULL;
}

static gpointer
rows_run (SwCatalogue *catalogue, gpointer trip, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) photos = sw_photo_list (catalogue, *(gint64 *)trip, FALSE, error);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (row_free);

  for (guint i = 0; photos != NULL && i < photos->len; i++)
    {
      const SwPhoto *photo = g_ptr_array_index (photos, i);
      Row *row = row_of (rows, photo->camera);
      if (photo->camera == 0)
        continue;
      if (row == NULL)
        {
          row = g_new0 (Row, 1);
          g_ptr_array_add (rows, row);
          row->camera = photo->camera;
          row->label = g_strdup (photo->camera_label);
          if (!sw_camera_clock_get (catalogue, row->camera, *(gint64 *)trip, &row->clock,
                                    &row->known, error))
            return NULL;
        }
      row->photos++;
    }
  return photos != NULL ? g_steal_pointer (&rows) : NULL;
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (SwClocksForm) self = user_data;
  g_autoptr (GPtrArray) rows = NULL;

  if (self->store == NULL)
    return;
  rows = sw_store_finish (self->store, result, NULL);
  if (rows == NULL)
    return;
  sw_container_empty (self->rows);
  for (guint i = 0; i < rows->len; i++)
    add_row (self, g_ptr_array_index (rows, i));
  if (rows->len == 0)
    sw_container_add_line (self->rows, _ ("No photo of this trip names its camera."), NULL);
}

static void
load (SwClocksForm *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  sw_store_read (self->store, SW_RANK_VISIBLE, rows_run, g_memdup2 (&self->trip, sizeof self->trip),
                 g_free, (GDestroyNotify)g_ptr_array_unref, self->cancellable, on_read,
                 g_object_ref (self));
}

/* ---- object ---- */

static void
sw_clocks_form_dispose (GObject *object)
{
  SwClocksForm *self = SW_CLOCKS_FORM (object);

  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->store);
  G_OBJECT_CLASS (sw_clocks_form_parent_class)->dispose (object);
}

static void
sw_clocks_form_class_init (SwClocksFormClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_clocks_form_dispose;
}

static void
sw_clocks_form_init (SwClocksForm *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  gtk_container_set_border_width (GTK_CONTAINER (box), 14);
  self->rows = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_container_add (GTK_CONTAINER (box), self->rows);
  self->problem = sw_container_add_line (
      box, _ ("Write a shift as +1:00:00 or -0:00:40 (hours:minutes:seconds), or in seconds."),
      "sw-problem");
  gtk_label_set_max_width_chars (GTK_LABEL (self->problem), 40);
  gtk_widget_show_all (box);
  gtk_widget_hide (self->problem);
  gtk_container_add (GTK_CONTAINER (self), box);
}

static gboolean
destroy_now (gpointer self)
{
  gtk_widget_destroy (self);
  g_object_unref (self);
  return G_SOURCE_REMOVE;
}

/* Not at once: the popover still folds itself away after it has said that it is closed. */
static void
on_closed (SwClocksForm *self)
{
  g_idle_add (destroy_now, g_object_ref (self));
}

void
sw_clocks_form_open (GtkWidget *button, SwStore *store, gint64 trip)
{
  SwClocksForm *self = g_object_new (SW_TYPE_CLOCKS_FORM, "relative-to", button, NULL);

  self->store = g_object_ref (store);
  self->trip = trip;
  g_signal_connect (self, "closed", G_CALLBACK (on_closed), NULL);
  g_signal_connect_object (store, "changed", G_CALLBACK (load), self, G_CONNECT_SWAPPED);
  load (self);
  gtk_popover_popup (GTK_POPOVER (self));
}
