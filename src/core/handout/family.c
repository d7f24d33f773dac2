/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gathers what the family is asked about, and makes the pictures. How it looks is family-html.c's
 * and family-paper.c's. */
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/places.h"
#include "core/catalogue/questions.h"
#include "core/handout/family-private.h"
#include "core/handout/known.h"
#include "core/handout/paper.h"
#include "core/handout/target.h"
#include "core/intake/jpeg.h"
#include "core/intake/pixels.h"

#define JPEG_QUALITY 70
#define PHOTOS_AN_ITEM 3
#define PERSON_MAX 120

/* What a message carries is limited: the more pictures, the smaller each, and one an item. */
static const struct
{
  guint up_to;
  guint side;
  guint an_item;
} sizes[] = {
  { 60, 640, PHOTOS_AN_ITEM },
  { 200, 480, 2 },
  { 500, 400, 1 },
  { G_MAXUINT, 320, 1 },
};

#define ASKED                                                                                      \
  (SW_TO (FOUND) | SW_TO (READY) | SW_TO (NO_SALE) | SW_TO (BRING_HOME) | SW_TO (AT_HOME)          \
   | SW_TO (FOR_SCRAP))

/* ---- records ---- */

static void
photo_free (gpointer data)
{
  g_free (((SwFamilyPhoto *)data)->path);
  g_free (data);
}

static void
question_free (gpointer data)
{
  g_free (((SwFamilyQuestion *)data)->text);
  g_free (data);
}

static void
item_free (gpointer data)
{
  SwFamilyItem *item = data;

  g_free (item->name);
  g_free (item->place);
  g_ptr_array_unref (item->lines);
  g_ptr_array_unref (item->cautions);
  g_ptr_array_unref (item->photos);
  g_ptr_array_unref (item->questions);
  g_free (item);
}

void
sw_family_choice_free (SwFamilyChoice *choice)
{
  if (choice == NULL)
    return;
  g_free (choice->folder);
  g_free (choice->id);
  g_free (choice->property);
  g_free (choice->person);
  g_ptr_array_unref (choice->items);
  g_free (choice);
}

static void
picture_clear (gpointer data)
{
  SwFamilyPicture *picture = data;

  g_clear_pointer (&picture->jpeg, g_bytes_unref);
  g_free (picture);
}

/* ---- what is known of an item ---- */

static void
add_facts (SwFamilyItem *to, const GPtrArray *facts)
{
  static const struct
  {
    const char *kind, *line;
  } told[] = { { SW_FACT_CONDITION, N_ ("Condition: %s") },
               { SW_FACT_WRONG, N_ ("What is wrong: %s") },
               { SW_FACT_BELONGS, N_ ("Belongs to it: %s") },
               { SW_FACT_STORY, N_ ("Its story: %s") } };

  for (gsize k = 0; k < G_N_ELEMENTS (told); k++)
    sw_known_add_facts (to->lines, facts, told[k].kind, told[k].line);
}

static void
add_cautions (SwFamilyItem *to, const GPtrArray *facts)
{
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      const SwDanger *danger = sw_danger_of_fact (fact);

      if (danger != NULL)
        g_ptr_array_add (to->cautions,
                         g_strdup_printf ("%s: %s", _ (danger->word), _ (danger->caution)));
    }
}

static void
add_price (SwFamilyItem *to, const SwItem *item, SwCurrency currency)
{
  if (!item->has_asking)
    return;
  g_autofree char *money = sw_money_to_person (item->asking, currency);
  g_autofree char *with_code = g_strdup_printf ("%s %s", money, currency.code);
  g_ptr_array_add (to->lines, sw_known_line (item->count > 1 ? N_ ("Asking price: %s for all")
                                                             : N_ ("Asking price: %s"),
                                             with_code));
}

/* ---- photos and questions ---- */

static gboolean
add_photo (SwCatalogue *catalogue, SwFamilyItem *to, gint64 number, GError **error)
{
  g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, number, error);

  if (photo == NULL)
    return FALSE;
  if (photo->aside || strcmp (photo->kind, "photo") != 0)
    return TRUE;
  SwFamilyPhoto *kept = g_new0 (SwFamilyPhoto, 1);
  kept->path = sw_catalogue_path (catalogue, photo->stored);
  kept->orientation = sw_orientation_turned (photo->orientation, photo->turn);
  g_ptr_array_add (to->photos, kept);
  return TRUE;
}

static gboolean
add_photos (SwCatalogue *catalogue, SwFamilyItem *to, gint64 first, guint most, GError **error)
{
  g_autoptr (GArray) photos = sw_item_photos (catalogue, to->number, error);

  if (photos == NULL || (first != 0 && !add_photo (catalogue, to, first, error)))
    return FALSE;
  for (guint i = 0; i < photos->len && to->photos->len < most; i++)
    if (g_array_index (photos, gint64, i) != first
        && !add_photo (catalogue, to, g_array_index (photos, gint64, i), error))
      return FALSE;
  return TRUE;
}

static void
add_questions (SwFamilyItem *to, const GPtrArray *open)
{
  for (guint i = 0; open != NULL && i < open->len; i++)
    {
      const SwQuestion *question = g_ptr_array_index (open, i);

      if (question->item != to->number)
        continue;
      SwFamilyQuestion *kept = g_new0 (SwFamilyQuestion, 1);
      kept->id = question->id;
      kept->text = g_strdup (question->text);
      g_ptr_array_add (to->questions, kept);
    }
}

/* ---- the whole ---- */

static guint
photos_an_item (guint n_items)
{
  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    if (n_items <= sizes[i].up_to)
      return sizes[i].an_item;
  g_return_val_if_reached (1);
}

static SwFamilyItem *
read_item (SwCatalogue *catalogue, const SwFamilyWish *wish, const SwItem *item,
           const GPtrArray *open, guint most, GError **error)
{
  g_autoptr (GPtrArray) facts = sw_fact_list (catalogue, item->id, error);

  if (facts == NULL)
    return NULL;
  SwFamilyItem *to = g_new0 (SwFamilyItem, 1);
  to->number = item->id;
  to->count = item->count;
  to->name = g_strdup (item->name);
  to->place = g_strdup (item->place_path);
  to->lines = g_ptr_array_new_with_free_func (g_free);
  to->cautions = g_ptr_array_new_with_free_func (g_free);
  to->photos = g_ptr_array_new_with_free_func (photo_free);
  to->questions = g_ptr_array_new_with_free_func (question_free);
  add_facts (to, facts);
  sw_known_add_size (to->lines, item);
  if (wish->prices)
    add_price (to, item, sw_catalogue_currency (catalogue));
  add_cautions (to, facts);
  add_questions (to, open);
  if (add_photos (catalogue, to, item->first_photo, most, error))
    return to;
  item_free (to);
  return NULL;
}

/* Those asked about, in the order that somebody walks past them. */
static GPtrArray *
asked_items (SwCatalogue *catalogue, const SwFamilyWish *wish, GError **error)
{
  SwItemFilter filter = { .place = wish->place, .places_inside = TRUE, .trip = wish->trip };
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);
  g_autoptr (GPtrArray) places = items != NULL ? sw_place_list (catalogue, error) : NULL;
  g_autoptr (GPtrArray) asked = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_item_free);

  if (places == NULL)
    return NULL;
  for (guint p = 0; p < places->len; p++)
    for (guint i = 0; i < items->len; i++)
      {
        SwItem *item = g_ptr_array_index (items, i);

        if (item == NULL || item->place != ((SwPlace *)g_ptr_array_index (places, p))->id
            || !(ASKED & (1u << item->state)))
          continue;
        g_ptr_array_add (asked, item);
        items->pdata[i] = NULL;
      }
  if (asked->len > 0)
    return g_steal_pointer (&asked);
  g_set_error_literal (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                       _ ("There is nothing to ask about: no item there is found, ready, unsold, "
                          "at home or for scrap."));
  return NULL;
}

SwFamilyChoice *
sw_family_choice_read (SwCatalogue *catalogue, const SwFamilyWish *wish, GError **error)
{
  g_autofree char *person = wish->person != NULL ? sw_text_tidy (wish->person) : NULL;

  if (person != NULL && !sw_text_check (person, _ ("The name of the person"), FALSE, FALSE, error))
    return NULL;
  if (person != NULL && strlen (person) > PERSON_MAX)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("The name of the person is longer than %d bytes; shorten it."), PERSON_MAX);
      return NULL;
    }
  g_autoptr (GPtrArray) items = asked_items (catalogue, wish, error);
  g_autoptr (GPtrArray) open
      = items != NULL && person != NULL ? sw_question_open (catalogue, person, error) : NULL;
  if (items == NULL || (person != NULL && open == NULL))
    return NULL;
  g_autoptr (SwFamilyChoice) choice = g_new0 (SwFamilyChoice, 1);
  choice->items = g_ptr_array_new_with_free_func (item_free);
  choice->folder = g_strdup (sw_catalogue_folder (catalogue));
  choice->property = g_strdup (sw_catalogue_name (catalogue));
  choice->person = g_steal_pointer (&person);
  choice->id = sw_catalogue_id (catalogue, error);
  if (choice->id == NULL)
    return NULL;
  for (guint i = 0; i < items->len; i++)
    {
      SwFamilyItem *item = read_item (catalogue, wish, g_ptr_array_index (items, i), open,
                                      photos_an_item (items->len), error);
      if (item == NULL)
        return NULL;
      g_ptr_array_add (choice->items, item);
    }
  return g_steal_pointer (&choice);
}

/* ---- pictures ---- */

/* NULL without an error: no picture can be made of it. */
static SwFamilyPicture *
make_picture (const SwFamilyPhoto *photo, SwDecoder *decoder, guint side, GCancellable *cancellable,
              GError **error)
{
  g_autoptr (GError) failure = NULL;
  g_autoptr (SwPicture) picture
      = sw_decoder_decode (decoder, photo->path, photo->orientation, side, cancellable, &failure);

  if (picture == NULL)
    {
      if (g_error_matches (failure, SW_ERROR, SW_ERROR_CANCELLED))
        sw_target_stopped (error);
      return NULL;
    }
  SwPixels pixels
      = { picture->width, picture->height, (guint8 *)g_bytes_get_data (picture->rgb, NULL) };
  SwFamilyPicture *made = g_new0 (SwFamilyPicture, 1);
  made->width = picture->width;
  made->height = picture->height;
  made->jpeg = sw_jpeg_encode (&pixels, JPEG_QUALITY);
  if (made->jpeg != NULL)
    return made;
  picture_clear (made);
  return NULL;
}

static GPtrArray *
make_pictures (const SwFamilyChoice *choice, SwDecoder *decoder, int *done,
               GCancellable *cancellable, SwFamilyReport *report, GError **error)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func ((GDestroyNotify)g_ptr_array_unref);
  guint wanted = 0, side = 0;

  for (guint i = 0; i < choice->items->len; i++)
    wanted += ((SwFamilyItem *)g_ptr_array_index (choice->items, i))->photos->len;
  for (gsize i = G_N_ELEMENTS (sizes); i-- > 0;)
    if (wanted <= sizes[i].up_to)
      side = sizes[i].side;
  for (guint i = 0; i < choice->items->len; i++)
    {
      const SwFamilyItem *item = g_ptr_array_index (choice->items, i);
      GPtrArray *made = g_ptr_array_new_with_free_func (picture_clear);

      g_ptr_array_add (all, made);
      for (guint k = 0; k < item->photos->len; k++)
        {
          g_autoptr (GError) failure = NULL;
          SwFamilyPicture *picture = make_picture (g_ptr_array_index (item->photos, k), decoder,
                                                   side, cancellable, &failure);

          if (failure != NULL)
            {
              g_propagate_error (error, g_steal_pointer (&failure));
              return NULL;
            }
          if (picture == NULL)
            {
              report->missing++;
              continue;
            }
          g_ptr_array_add (made, picture);
          report->pictures++;
        }
      report->questions += (int)item->questions->len;
      if (done != NULL)
        g_atomic_int_inc (done);
    }
  report->items = (int)choice->items->len;
  return g_steal_pointer (&all);
}

gboolean
sw_family_choice_write (const SwFamilyChoice *choice, SwDecoder *decoder, const char *path,
                        int *done, GCancellable *cancellable, SwFamilyReport *out_report,
                        GError **error)
{
  gboolean paper = g_str_has_suffix (path, ".pdf");
  SwFamilyReport report = { 0 };

  if (!paper && !g_str_has_suffix (path, ".html"))
    {
      g_autofree char *shown = sw_text_quote (path);
      g_set_error (
          error, SW_ERROR, SW_ERROR_BAD_INPUT,
          _ ("Give it a name that ends in .html (for a screen) or .pdf (for paper), not %s."),
          shown);
      return FALSE;
    }
  if (!sw_target_is_outside (choice->folder, path, error))
    return FALSE;
  g_autoptr (GPtrArray) pictures
      = make_pictures (choice, decoder, done, cancellable, &report, error);
  if (pictures == NULL)
    return FALSE;
  g_autoptr (GBytes) bytes = paper ? sw_family_paper (choice, pictures, &report.pages, error)
                                   : sw_family_html (choice, pictures);
  if (bytes == NULL)
    return FALSE;
  if (g_cancellable_is_cancelled (cancellable))
    return sw_target_stopped (error);
  report.bytes = (gint64)g_bytes_get_size (bytes);
  if (!sw_paper_write_file (path, paper ? ".pdf" : ".html", bytes, _ ("The family choice"), error))
    return FALSE;
  if (out_report != NULL)
    *out_report = report;
  return TRUE;
}
