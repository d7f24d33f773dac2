/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's picture cache. What there is at once comes first, a run of wishes at a time, the
 * newest first; wishes that nobody repeated for a while are dropped. Once no wish waits, what only
 * stands in is replaced, one photo at a time, what was drawn last first. At most one thread a core
 * for either. Touches no widget from a worker. */
#include "app/pictures.h"

/* Surfaces kept, in bytes. */
#define BUDGET (96 * 1024 * 1024)
/* Wishes kept; past this the oldest are forgotten and asked for again when drawn. */
#define MAX_WISHES 400
/* Small pictures looked for in one go: the helper that reads them out of the photos' headers is
 * then woken once. A large one goes alone, for one that is stored takes some milliseconds to
 * unpack. */
#define RUN 16

typedef struct
{
  gint64 photo;
  SwPictureSize size;
} Key;

typedef struct
{
  Key key;
  cairo_surface_t *surface; /* NULL: there is none to show, or (not final) none yet */
  gsize bytes;
  gboolean is_final; /* else a better one is to be loaded */
  GList link;        /* in 'recent' */
} Entry;

struct _SwPictures
{
  GObject parent;
  SwPictureSource *source;
  GHashTable *entries; /* Key -> Entry */
  GQueue recent;       /* Entries, most recently used first */
  gsize bytes;
  guint n_passing;                  /* entries that are not final */
  GQueue wishes;                    /* Key*, newest first */
  GHashTable *wished;               /* Key -> link in 'wishes' */
  GHashTable *running;              /* Key -> itself */
  GHashTable *stale;                /* Key -> itself: being loaded, and forgotten meanwhile */
  guint max_running, firsts, loads; /* tasks: at most of each kind, and now */
};

G_DEFINE_TYPE (SwPictures, sw_pictures, G_TYPE_OBJECT)

enum
{
  LOADED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static guint
key_hash (gconstpointer key)
{
  const Key *k = key;
  return g_int64_hash (&k->photo) * 31u + k->size;
}

static gboolean
key_equal (gconstpointer a, gconstpointer b)
{
  const Key *x = a, *y = b;
  return x->photo == y->photo && x->size == y->size;
}

static void
entry_free (gpointer data)
{
  Entry *entry = data;
  g_clear_pointer (&entry->surface, cairo_surface_destroy);
  g_free (entry);
}

static void
sw_pictures_finalize (GObject *object)
{
  SwPictures *self = SW_PICTURES (object);

  g_clear_pointer (&self->wished, g_hash_table_unref);
  g_queue_clear_full (&self->wishes, g_free);
  g_clear_pointer (&self->running, g_hash_table_unref);
  g_clear_pointer (&self->stale, g_hash_table_unref);
  g_clear_pointer (&self->entries, g_hash_table_unref);
  g_clear_pointer (&self->source, sw_picture_source_unref);
  G_OBJECT_CLASS (sw_pictures_parent_class)->finalize (object);
}

static void
sw_pictures_class_init (SwPicturesClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sw_pictures_finalize;
  signals[LOADED] = g_signal_new ("loaded", SW_TYPE_PICTURES, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
}

static void
sw_pictures_init (SwPictures *self)
{
  self->entries = g_hash_table_new_full (key_hash, key_equal, NULL, entry_free);
  self->wished = g_hash_table_new (key_hash, key_equal);
  self->running = g_hash_table_new_full (key_hash, key_equal, g_free, NULL);
  self->stale = g_hash_table_new_full (key_hash, key_equal, g_free, NULL);
  self->max_running = CLAMP (g_get_num_processors (), 1, 4);
}

SwPictures *
sw_pictures_new (SwPictureSource *source)
{
  SwPictures *self = g_object_new (SW_TYPE_PICTURES, NULL);

  self->source = sw_picture_source_ref (source);
  return self;
}

static void
drop (SwPictures *self, Entry *entry)
{
  g_queue_unlink (&self->recent, &entry->link);
  self->bytes -= entry->bytes;
  self->n_passing -= entry->is_final ? 0 : 1;
  g_hash_table_remove (self->entries, &entry->key);
}

static void
trim (SwPictures *self)
{
  while (self->bytes > BUDGET && self->recent.length > 1)
    drop (self, g_queue_peek_tail (&self->recent));
}

static Entry *
entry_for (SwPictures *self, const Key *key)
{
  Entry *entry = g_hash_table_lookup (self->entries, key);

  if (entry != NULL)
    return entry;
  entry = g_new0 (Entry, 1);
  entry->key = *key;
  entry->link.data = entry;
  self->n_passing++;
  g_queue_push_head_link (&self->recent, &entry->link);
  g_hash_table_insert (self->entries, &entry->key, entry);
  return entry;
}

/* In place of what stood in for it, in whose rank it stays. pixbuf may be NULL. */
static void
keep (SwPictures *self, const Key *key, GdkPixbuf *pixbuf, gboolean is_final)
{
  Entry *entry = entry_for (self, key);

  if (pixbuf != NULL || is_final)
    {
      self->bytes -= entry->bytes;
      entry->bytes = 0;
      g_clear_pointer (&entry->surface, cairo_surface_destroy);
    }
  if (pixbuf != NULL)
    {
      entry->surface = gdk_cairo_surface_create_from_pixbuf (pixbuf, 1, NULL);
      entry->bytes = (gsize)gdk_pixbuf_get_width (pixbuf) * gdk_pixbuf_get_height (pixbuf) * 4;
      self->bytes += entry->bytes;
    }
  self->n_passing -= is_final && !entry->is_final ? 1 : 0;
  entry->is_final = is_final;
  trim (self);
}

static void start_next (SwPictures *self);

/* What has come of a key that was being loaded, and whether there is anything new to draw. */
static gboolean
take (SwPictures *self, const Key *key, GdkPixbuf *pixbuf, gboolean is_final)
{
  gboolean stale = g_hash_table_remove (self->stale, key);

  if (!stale)
    keep (self, key, pixbuf, is_final);
  g_hash_table_remove (self->running, key);
  return stale || pixbuf != NULL || is_final;
}

/* ---- what there is at once ---- */

typedef struct
{
  SwPictureSource *source;
  SwPictureSize size;
  SwFirstPicture pictures[RUN];
  guint n;
} First;

static void
first_free (gpointer data)
{
  First *first = data;

  for (guint i = 0; i < first->n; i++)
    g_clear_object (&first->pictures[i].pixbuf);
  sw_picture_source_unref (first->source);
  g_free (first);
}

static void
first_run (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  First *first = data;

  sw_picture_source_first (first->source, first->pictures, first->n,
                           first->size == SW_PICTURE_LARGE);
  g_task_return_boolean (task, TRUE);
}

static void
first_done (GObject *object, GAsyncResult *result, gpointer data)
{
  SwPictures *self = SW_PICTURES (object);
  First *first = g_task_get_task_data (G_TASK (result));
  gboolean is_new[RUN];

  for (guint i = 0; i < first->n; i++)
    {
      const SwFirstPicture *picture = &first->pictures[i];
      Key key = { picture->photo, first->size };

      is_new[i] = take (self, &key, picture->pixbuf, picture->is_final);
    }
  self->firsts--;
  start_next (self);
  for (guint i = 0; i < first->n; i++)
    if (is_new[i])
      g_signal_emit (self, signals[LOADED], 0, first->pictures[i].photo);
}

/* The newest wish, and the others of its size that are next to it. */
static First *
take_wishes (SwPictures *self)
{
  First *first = g_new0 (First, 1);
  const Key *next = g_queue_peek_head (&self->wishes);
  guint most = next->size == SW_PICTURE_SMALL ? RUN : 1;

  first->source = sw_picture_source_ref (self->source);
  first->size = next->size;
  while (first->n < most && next != NULL && next->size == first->size)
    {
      Key *key = g_queue_pop_head (&self->wishes);

      g_hash_table_remove (self->wished, key);
      g_hash_table_add (self->running, key);
      first->pictures[first->n++].photo = key->photo;
      next = g_queue_peek_head (&self->wishes);
    }
  return first;
}

/* ---- the photo's own ---- */

typedef struct
{
  SwPictureSource *source;
  Key key;
} Load;

static void
load_free (gpointer data)
{
  Load *load = data;
  sw_picture_source_unref (load->source);
  g_free (load);
}

static void
load_run (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  Load *load = data;
  GdkPixbuf *pixbuf
      = sw_picture_source_load (load->source, load->key.photo, load->key.size == SW_PICTURE_LARGE);

  g_task_return_pointer (task, pixbuf, g_object_unref);
}

static void
load_done (GObject *object, GAsyncResult *result, gpointer data)
{
  SwPictures *self = SW_PICTURES (object);
  const Load *load = g_task_get_task_data (G_TASK (result));
  g_autoptr (GdkPixbuf) pixbuf = g_task_propagate_pointer (G_TASK (result), NULL);

  take (self, &load->key, pixbuf, TRUE);
  self->loads--;
  start_next (self);
  g_signal_emit (self, signals[LOADED], 0, load->key.photo);
}

/* The entry drawn last that a better picture is to be loaded for. Large ones first: they are few,
 * and what the person looks at. */
static Entry *
next_passing (SwPictures *self)
{
  Entry *next = NULL;

  if (self->n_passing == 0)
    return NULL;
  for (GList *l = self->recent.head; l != NULL; l = l->next)
    {
      Entry *entry = l->data;

      if (entry->is_final || g_hash_table_contains (self->running, &entry->key))
        continue;
      if (entry->key.size == SW_PICTURE_LARGE)
        return entry;
      if (next == NULL)
        next = entry;
    }
  return next;
}

static void
start_task (SwPictures *self, GTaskThreadFunc run, GAsyncReadyCallback done, gpointer data,
            GDestroyNotify data_free)
{
  g_autoptr (GTask) task = g_task_new (self, NULL, done, NULL);

  g_task_set_task_data (task, data, data_free);
  g_task_run_in_thread (task, run);
}

static void
start_next (SwPictures *self)
{
  Entry *entry;

  while (self->firsts < self->max_running && self->wishes.length > 0)
    {
      self->firsts++;
      start_task (self, first_run, first_done, take_wishes (self), first_free);
    }
  while (self->firsts == 0 && self->loads < self->max_running
         && (entry = next_passing (self)) != NULL)
    {
      Load *load = g_new0 (Load, 1);

      load->source = sw_picture_source_ref (self->source);
      load->key = entry->key;
      self->loads++;
      g_hash_table_add (self->running, g_memdup2 (&load->key, sizeof load->key));
      start_task (self, load_run, load_done, load, load_free);
    }
}

static void
wish (SwPictures *self, const Key *key)
{
  GList *link = g_hash_table_lookup (self->wished, key);

  if (g_hash_table_contains (self->running, key))
    return;
  if (link != NULL)
    { /* asked for again: to the front */
      g_queue_unlink (&self->wishes, link);
      g_queue_push_head_link (&self->wishes, link);
      return;
    }
  g_queue_push_head (&self->wishes, g_memdup2 (key, sizeof *key));
  link = self->wishes.head;
  g_hash_table_insert (self->wished, link->data, link);
  if (self->wishes.length > MAX_WISHES)
    {
      g_autofree Key *oldest = g_queue_pop_tail (&self->wishes);
      g_hash_table_remove (self->wished, oldest);
    }
  start_next (self);
}

/* ---- asking and drawing ---- */

cairo_surface_t *
sw_pictures_get (SwPictures *self, gint64 photo, SwPictureSize size, gboolean *out_missing)
{
  Key key = { photo, size };
  Entry *entry = g_hash_table_lookup (self->entries, &key);

  if (out_missing != NULL)
    *out_missing = entry != NULL && entry->is_final && entry->surface == NULL;
  if (entry == NULL)
    {
      wish (self, &key);
      return NULL;
    }
  g_queue_unlink (&self->recent, &entry->link);
  g_queue_push_head_link (&self->recent, &entry->link);
  return entry->surface;
}

static void
forget (SwPictures *self, const Key *key)
{
  Entry *entry = g_hash_table_lookup (self->entries, key);

  if (g_hash_table_contains (self->running, key))
    g_hash_table_add (self->stale, g_memdup2 (key, sizeof *key));
  if (entry != NULL)
    drop (self, entry);
}

void
sw_pictures_forget (SwPictures *self, gint64 photo)
{
  for (int size = 0; size < SW_N_PICTURE_SIZES; size++)
    forget (self, &(Key){ photo, (SwPictureSize)size });
  g_signal_emit (self, signals[LOADED], 0, photo);
}

void
sw_pictures_follow (SwPictures **at, gulong *handler, SwPictures *pictures, GCallback loaded,
                    gpointer widget)
{
  if (*at != NULL)
    g_clear_signal_handler (handler, *at);
  g_set_object (at, pictures);
  if (pictures != NULL)
    *handler = g_signal_connect (pictures, "loaded", loaded, widget);
}

gboolean
sw_pictures_is_idle (SwPictures *self)
{
  return self->wishes.length == 0 && g_hash_table_size (self->running) == 0 && self->n_passing == 0;
}

static void
draw_field (cairo_t *cr, GtkStyleContext *style, const GdkRectangle *area, gboolean missing)
{
  GdkRGBA colour;

  gtk_style_context_get_color (style, gtk_style_context_get_state (style), &colour);
  colour.alpha = missing ? 0.14 : 0.07;
  gdk_cairo_set_source_rgba (cr, &colour);
  gdk_cairo_rectangle (cr, area);
  cairo_fill (cr);
  if (!missing)
    return;
  /* a bar across says: nothing to show, and not merely 'not yet' */
  cairo_set_line_width (cr, 1);
  cairo_move_to (cr, area->x + area->width * 0.3, area->y + area->height * 0.7);
  cairo_line_to (cr, area->x + area->width * 0.7, area->y + area->height * 0.3);
  colour.alpha = 0.5;
  gdk_cairo_set_source_rgba (cr, &colour);
  cairo_stroke (cr);
}

void
sw_pictures_draw (SwPictures *self, cairo_t *cr, GtkStyleContext *style, gint64 photo,
                  SwPictureSize size, const GdkRectangle *area, gboolean whole)
{
  gboolean missing = photo == 0;
  cairo_surface_t *surface
      = self == NULL || photo == 0 ? NULL : sw_pictures_get (self, photo, size, &missing);
  double width, height, scale;

  if (surface == NULL && size == SW_PICTURE_LARGE && self != NULL && photo != 0)
    { /* the small one, stretched, until the large one is there */
      Key small = { photo, SW_PICTURE_SMALL };
      Entry *entry = g_hash_table_lookup (self->entries, &small);
      surface = entry != NULL ? entry->surface : NULL;
    }
  if (surface == NULL)
    {
      draw_field (cr, style, area, missing);
      return;
    }
  width = cairo_image_surface_get_width (surface);
  height = cairo_image_surface_get_height (surface);
  scale = whole ? MIN (area->width / width, area->height / height)
                : MAX (area->width / width, area->height / height);
  cairo_save (cr);
  gdk_cairo_rectangle (cr, area);
  cairo_clip (cr);
  cairo_translate (cr, area->x + (area->width - width * scale) / 2,
                   area->y + (area->height - height * scale) / 2);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_GOOD);
  cairo_paint (cr);
  cairo_restore (cr);
}
