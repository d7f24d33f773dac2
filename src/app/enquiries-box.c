/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of enquiries and their buttons. */
#include "app/enquiries-box.h"

#include "app/offer-forms.h"
#include "app/offer-words.h"
#include "app/text.h"
#include "core/catalogue/enquiries.h"

struct _SwEnquiriesBox
{
  GtkBox parent;
  SwStore *store;
  GPtrArray *enquiries;
  char *items;
};

G_DEFINE_TYPE (SwEnquiriesBox, sw_enquiries_box, GTK_TYPE_BOX)

static void
add (GString *text, const char *part)
{
  if (part != NULL && *part != '\0')
    g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", part);
}

/* "A. Caller, 55.00, can it be tried?, held until 3 May 2026". */
static char *
words_of (SwEnquiriesBox *self, const SwEnquiry *enquiry)
{
  GString *text = g_string_new (enquiry->person != NULL ? enquiry->person : _ ("Somebody"));
  g_autofree char *money
      = enquiry->has_amount ? sw_store_money (self->store, enquiry->amount) : NULL;
  g_autofree char *held = enquiry->outcome == SW_ENQUIRY_HELD
                              ? sw_words_hold (enquiry->until, enquiry->until_end)
                              : NULL;

  add (text, money);
  add (text, enquiry->remark);
  add (text, held);
  if (enquiry->outcome == SW_ENQUIRY_NO_SHOW)
    add (text, _ ("did not come"));
  return g_string_free (text, FALSE);
}

#define ENQUIRY "sw-enquiry"

static void
on_hold (GtkWidget *button, SwEnquiriesBox *self)
{
  const SwEnquiry *enquiry = g_object_get_data (G_OBJECT (button), ENQUIRY);
  g_autofree char *about = g_strdup_printf (_ ("%s, for %s"), self->items, enquiry->person);

  sw_offer_form_show (GTK_WINDOW (gtk_widget_get_toplevel (button)), self->store,
                      SW_OFFER_FORM_HOLD, enquiry->id, about, NULL);
}

static void
on_no_show (GtkWidget *button, SwEnquiriesBox *self)
{
  sw_act_no_show (self->store,
                  ((const SwEnquiry *)g_object_get_data (G_OBJECT (button), ENQUIRY))->id);
}

static void
on_remove (GtkWidget *button, SwEnquiriesBox *self)
{
  sw_remove_buyer_ask (GTK_WINDOW (gtk_widget_get_toplevel (button)), self->store,
                       ((const SwEnquiry *)g_object_get_data (G_OBJECT (button), ENQUIRY))->person);
}

static void
add_button (SwEnquiriesBox *self, GtkWidget *row, const char *label, const SwEnquiry *enquiry,
            GCallback clicked)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  g_autofree char *name = g_strdup_printf (
      "%s %s", label, enquiry->person != NULL ? enquiry->person : _ ("Somebody"));

  atk_object_set_name (gtk_widget_get_accessible (button), name);
  g_object_set_data (G_OBJECT (button), ENQUIRY, (gpointer)enquiry);
  g_signal_connect (button, "clicked", clicked, self);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_widget_set_sensitive (button, !sw_store_overview (self->store)->read_only);
  gtk_box_pack_end (GTK_BOX (row), button, FALSE, FALSE, 0);
}

static void
add_row (SwEnquiriesBox *self, const SwEnquiry *enquiry)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  g_autofree char *words = words_of (self, enquiry);
  GtkWidget *label = gtk_label_new (words);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_line_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_line_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_box_pack_start (GTK_BOX (row), label, TRUE, TRUE, 0);
  if (enquiry->person != NULL)
    add_button (self, row, _ ("Remove the name…"), enquiry, G_CALLBACK (on_remove));
  if (enquiry->outcome == SW_ENQUIRY_HELD)
    add_button (self, row, _ ("Did not come"), enquiry, G_CALLBACK (on_no_show));
  else if (enquiry->person != NULL)
    add_button (self, row, _ ("Hold for…"), enquiry, G_CALLBACK (on_hold));
  gtk_widget_show_all (row);
  gtk_container_add (GTK_CONTAINER (self), row);
}

static void
destroy_row (GtkWidget *row, gpointer data)
{
  gtk_widget_destroy (row);
}

void
sw_enquiries_box_show (SwEnquiriesBox *self, SwStore *store, GPtrArray *enquiries,
                       const char *items)
{
  gtk_container_foreach (GTK_CONTAINER (self), destroy_row, NULL); /* they lead to the old ones */
  g_set_object (&self->store, store);
  g_clear_pointer (&self->enquiries, g_ptr_array_unref);
  g_clear_pointer (&self->items, g_free);
  self->items = g_strdup (items);
  if (enquiries != NULL)
    self->enquiries = g_ptr_array_ref (enquiries);
  for (guint i = 0; enquiries != NULL && i < enquiries->len; i++)
    add_row (self, g_ptr_array_index (enquiries, i));
  gtk_widget_set_visible (GTK_WIDGET (self), enquiries != NULL && enquiries->len > 0);
}

static void
sw_enquiries_box_dispose (GObject *object)
{
  SwEnquiriesBox *self = SW_ENQUIRIES_BOX (object);

  gtk_container_foreach (GTK_CONTAINER (self), destroy_row, NULL);
  g_clear_object (&self->store);
  g_clear_pointer (&self->enquiries, g_ptr_array_unref);
  g_clear_pointer (&self->items, g_free);
  G_OBJECT_CLASS (sw_enquiries_box_parent_class)->dispose (object);
}

static void
sw_enquiries_box_class_init (SwEnquiriesBoxClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_enquiries_box_dispose;
}

static void
sw_enquiries_box_init (SwEnquiriesBox *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 4);
}
