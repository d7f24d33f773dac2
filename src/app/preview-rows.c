/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of a look before a bring-in: trips and days, cameras, what is here, what is double, room.
 * Words only; the figures are core's. */
#include "app/preview-rows.h"

#include "app/form-acts.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/base/text.h"

/* Named at most; the rest are counted. */
#define MOST_CAMERAS 6
#define MOST_NAMED 3

/* ---- lines ---- */

/* As wide as a line is read well. */
static GtkWidget *
add_line (GtkWidget *box, const char *text, const char *class)
{
  GtkWidget *label = sw_container_add_line (box, text, class);

  gtk_label_set_max_width_chars (GTK_LABEL (label), 52);
  return label;
}

static void
add_take (GtkWidget *box, char *text, const char *class)
{
  g_autofree char *owned = text;

  add_line (box, owned, class);
}

/* A faint word at the head of some lines. */
static void
add_head (GtkWidget *box, const char *text)
{
  gtk_widget_set_margin_top (add_line (box, text, GTK_STYLE_CLASS_DIM_LABEL), 8);
}

static void
append_count (GString *text, gint64 n, char *count)
{
  if (n > 0)
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", count);
  g_free (count);
}

char *
sw_preview_title (const SwPreview *preview)
{
  g_autofree char *photos
      = sw_text_count (preview->photos_to_take, "%d photo to bring in", "%d photos to bring in");
  g_autofree char *files
      = sw_text_count (preview->to_take, "%d file to bring in", "%d files to bring in");

  if (preview->to_take == 0)
    return g_strdup (preview->is_exact ? _ ("All of it is here already")
                                       : _ ("All of it seems to be here already"));
  return g_strdup (preview->photos_to_take > 0 ? photos : files);
}

/* ---- trips and days ---- */

typedef struct
{
  GWeakRef button, entry;
  SwStore *store;
  SwDay first, last;
} Offer;

static void
offer_free (gpointer data, GClosure *closure)
{
  Offer *offer = data;

  g_weak_ref_clear (&offer->button);
  g_weak_ref_clear (&offer->entry);
  g_object_unref (offer->store);
  g_free (offer);
}

/* Where it was made the whole box is filled anew, without this row. */
static void
on_trip_tried (gpointer owner, const char *problem)
{
  GtkWidget *label = g_object_get_data (owner, "sw-problem");

  gtk_widget_set_sensitive (owner, TRUE);
  if (problem == NULL)
    return;
  gtk_label_set_text (GTK_LABEL (label), problem);
  gtk_widget_show (label);
}

static void
on_add_trip (GtkWidget *widget, Offer *offer)
{
  g_autoptr (GtkWidget) button = g_weak_ref_get (&offer->button);
  g_autoptr (GtkWidget) entry = g_weak_ref_get (&offer->entry);
  g_autofree char *first = sw_day_to_text (offer->first), *last = sw_day_to_text (offer->last);

  if (button == NULL || entry == NULL || !gtk_widget_get_sensitive (button))
    return;
  gtk_widget_set_sensitive (button, FALSE);
  sw_form_act_trip (offer->store, 0, gtk_entry_get_text (GTK_ENTRY (entry)), first, last,
                    G_OBJECT (button), on_trip_tried);
}

static gboolean
title_is_taken (SwStore *store, const char *title)
{
  const GPtrArray *trips = sw_store_overview (store)->trips;

  for (guint i = 0; i < trips->len; i++)
    if (sw_text_same_name (((const SwTrip *)g_ptr_array_index (trips, i))->title, title))
      return TRUE;
  return FALSE;
}

/* The month, or the days where a trip is called by that already. Transfer full. */
static char *
guess_title (SwStore *store, const SwPreviewStay *stay)
{
  g_autofree char *month = sw_text_month (stay->first);

  if (title_is_taken (store, month))
    return sw_text_days (stay->first, stay->last);
  return g_steal_pointer (&month);
}

static void
add_offer (GtkWidget *box, SwStore *store, const SwPreviewStay *stay, const char *typed)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *entry = gtk_entry_new ();
  GtkWidget *button = gtk_button_new_with_mnemonic (_ ("Make it a _trip"));
  GtkWidget *problem = gtk_label_new (NULL);
  g_autofree char *guess = guess_title (store, stay);
  Offer *offer = g_new0 (Offer, 1);

  gtk_entry_set_text (GTK_ENTRY (entry), typed != NULL ? typed : guess);
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_entry_set_width_chars (GTK_ENTRY (entry), 10);
  atk_object_set_name (gtk_widget_get_accessible (entry), _ ("Title of the trip"));
  gtk_label_set_line_wrap (GTK_LABEL (problem), TRUE);
  gtk_label_set_xalign (GTK_LABEL (problem), 0);
  gtk_style_context_add_class (gtk_widget_get_style_context (problem), "sw-problem");
  gtk_container_add (GTK_CONTAINER (line), entry);
  gtk_container_add (GTK_CONTAINER (line), button);
  gtk_widget_show_all (line);
  gtk_container_add (GTK_CONTAINER (box), line);
  gtk_container_add (GTK_CONTAINER (box), problem);
  g_object_set_data (G_OBJECT (button), "sw-problem", problem);
  offer->store = g_object_ref (store);
  offer->first = stay->first;
  offer->last = stay->last;
  g_weak_ref_init (&offer->button, button);
  g_weak_ref_init (&offer->entry, entry);
  g_object_set_data (G_OBJECT (entry), "sw-first-day", GINT_TO_POINTER (stay->first.n));
  g_signal_connect_data (button, "clicked", G_CALLBACK (on_add_trip), offer, offer_free, 0);
  g_signal_connect (entry, "activate", G_CALLBACK (on_add_trip), offer);
}

static void
add_stay (GtkWidget *box, SwStore *store, const SwPreviewStay *stay, const char *typed)
{
  const SwTrip *trip = sw_store_trip (store, stay->trip);
  g_autofree char *days = sw_text_days (stay->first, stay->last);
  g_autofree char *photos = sw_text_count (stay->photos, "%d photo", "%d photos");
  g_autofree char *name = trip != NULL ? sw_text_trip (trip) : NULL;

  if (name != NULL)
    add_take (box, g_strdup_printf (_ ("%s: %s of %s"), name, photos, days), NULL);
  else
    {
      add_take (box, g_strdup_printf (_ ("No trip yet: %s of %s"), photos, days), NULL);
      add_offer (box, store, stay, typed);
    }
}

/* What is typed in the offers, by their first day. */
static void
note_typed (GtkWidget *widget, gpointer typed)
{
  gpointer day = g_object_get_data (G_OBJECT (widget), "sw-first-day");

  if (GTK_IS_ENTRY (widget) && day != NULL)
    g_hash_table_insert (typed, day, g_strdup (gtk_entry_get_text (GTK_ENTRY (widget))));
  else if (GTK_IS_CONTAINER (widget))
    gtk_container_foreach (GTK_CONTAINER (widget), note_typed, typed);
}

static void
add_stays (GtkWidget *box, SwStore *store, const SwPreview *preview, GHashTable *typed)
{
  g_autoptr (GArray) stays = sw_preview_stays (preview->days, sw_store_overview (store)->trips);

  if (stays->len > 0)
    add_head (box, _ ("Trips and days"));
  for (guint i = 0; i < stays->len; i++)
    {
      const SwPreviewStay *stay = &g_array_index (stays, SwPreviewStay, i);
      add_stay (box, store, stay, g_hash_table_lookup (typed, GINT_TO_POINTER (stay->first.n)));
    }
  if (preview->weak > 0)
    {
      add_take (box,
                sw_text_count (preview->weak,
                               "%d photo has no time but that of the file, which may be wrong.",
                               "%d photos have no time but that of the file, which may be wrong."),
                GTK_STYLE_CLASS_DIM_LABEL);
    }
}

/* ---- cameras and the rest ---- */

static void
add_cameras (GtkWidget *box, const SwPreview *preview)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < preview->cameras->len && i < MOST_CAMERAS; i++)
    {
      const SwPreviewCamera *camera = g_ptr_array_index (preview->cameras, i);
      g_string_append_printf (text, "%s%s (%" G_GINT64_FORMAT ")", i > 0 ? ", " : "", camera->label,
                              camera->photos);
    }
  if (preview->cameras->len > MOST_CAMERAS)
    g_string_append_printf (text, _ (" and %u more"), preview->cameras->len - MOST_CAMERAS);
  if (text->len > 0)
    {
      add_head (box, preview->cameras->len == 1 ? _ ("Camera") : _ ("Cameras"));
      add_line (box, text->str, NULL);
    }
  g_string_free (text, TRUE);
}

static void
add_known (GtkWidget *box, const SwPreview *preview)
{
  if (preview->there + preview->twice + preview->look_alikes->len == 0)
    return;
  add_head (box, _ ("Already here, or double"));
  if (preview->there > 0)
    add_take (box,
              preview->is_exact
                  ? sw_text_count (preview->there, "%d is in the catalogue already",
                                   "%d are in the catalogue already")
                  : sw_text_count (preview->there, "about %d is in the catalogue already",
                                   "about %d are in the catalogue already"),
              NULL);
  if (preview->twice > 0)
    add_take (box,
              preview->is_exact
                  ? sw_text_count (preview->twice, "%d lies there twice, and is taken once",
                                   "%d lie there twice, and are taken once")
                  : sw_text_count (preview->twice, "about %d lies there twice, and is taken once",
                                   "about %d lie there twice, and are taken once"),
              NULL);
  if (preview->look_alikes->len > 0)
    add_take (
        box,
        preview->look_alikes_are_all
            ? sw_text_count (preview->look_alikes->len,
                             "%d pair looks the same and of one moment; both are taken",
                             "%d pairs look the same and of one moment; both are taken")
            : sw_text_count (preview->look_alikes->len,
                             "at least %d pair looks the same and of one moment; both are taken",
                             "at least %d pairs look the same and of one moment; both are taken"),
        NULL);
}

static void
add_with (GtkWidget *box, const SwPreview *preview)
{
  g_autoptr (GString) with = g_string_new (NULL);

  append_count (with, preview->clips, sw_text_count (preview->clips, "%d clip", "%d clips"));
  append_count (with, preview->raws, sw_text_count (preview->raws, "%d raw file", "%d raw files"));
  append_count (with, preview->memos,
                sw_text_count (preview->memos, "%d voice memo", "%d voice memos"));
  if (with->len + (gsize)preview->others == 0)
    return;
  add_head (box, _ ("Other files"));
  if (with->len > 0)
    add_line (box, with->str, NULL);
  if (preview->others > 0)
    add_take (box,
              sw_text_count (preview->others, "%d other file is left where it is",
                             "%d other files are left where they are"),
              NULL);
}

static void
add_refused (GtkWidget *box, const GPtrArray *refused)
{
  g_autofree char *files = NULL;

  if (refused->len == 0)
    return;
  files = sw_text_count (refused->len, "%d file cannot be taken", "%d files cannot be taken");
  add_head (box, files);
  for (guint i = 0; i < refused->len && i < MOST_NAMED; i++)
    {
      const SwBringInRemark *remark = g_ptr_array_index (refused, i);
      g_autofree char *name = sw_text_printable (remark->file, -1);
      add_take (box, g_strdup_printf ("%s: %s", name, remark->remark), "sw-problem");
    }
  if (refused->len > MOST_NAMED)
    add_take (box, g_strdup_printf (_ ("and %u more"), refused->len - MOST_NAMED), "sw-problem");
}

static void
add_room (GtkWidget *box, const SwPreview *preview)
{
  g_autofree char *needed = g_format_size (preview->bytes_needed);
  g_autofree char *free = g_format_size (preview->bytes_free);

  if (preview->to_take == 0)
    return;
  add_head (box, _ ("Room"));
  if (!preview->fits)
    add_take (box,
              g_strdup_printf (_ ("%s are needed and only %s are free: free some space on the "
                                  "catalogue's disk, then look again."),
                               needed, free),
              "sw-problem");
  else if (preview->free_is_known)
    add_take (box, g_strdup_printf (_ ("%s needed, %s free"), needed, free), NULL);
  else
    add_take (box, g_strdup_printf (_ ("%s needed"), needed), NULL);
}

void
sw_preview_rows_fill (GtkWidget *box, SwStore *store, const SwPreview *preview)
{
  g_autoptr (GHashTable) typed = g_hash_table_new_full (NULL, NULL, NULL, g_free);

  note_typed (box, typed);
  sw_container_empty (box);
  if (preview->to_take == 0)
    add_line (box,
              _ ("Compare every byte to learn whether the memory card may be "
                 "cleared; nothing is taken twice."),
              NULL);
  add_stays (box, store, preview, typed);
  add_cameras (box, preview);
  add_known (box, preview);
  add_with (box, preview);
  add_refused (box, preview->refused);
  add_room (box, preview);
}
