/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/file-out.h"

#include "app/text.h"
#include "app/widgets.h"

typedef struct
{
  SwStore *store;
  const SwFileOut *kind;
  gpointer wish, what;
  GDestroyNotify free_wish;
  char *path;
} Out;

static void
out_free (Out *out)
{
  g_object_unref (out->store);
  if (out->free_wish != NULL)
    out->free_wish (out->wish);
  g_free (out->path);
  g_free (out);
}

char *
sw_file_out_sentence (const char *path)
{
  g_autofree char *name = g_path_get_basename (path);

  return g_strdup_printf (_ ("%s written."), name);
}

static void
tell (Out *out, const char *sentence, const GError *error)
{
  sw_store_tell (out->store, sentence != NULL ? sentence : error->message, sentence == NULL);
  out_free (out);
}

/* ---- on a thread of its own ---- */

static void
run_write (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  Out *out = data;
  GError *error = NULL;
  char *sentence = out->kind->write (g_steal_pointer (&out->what), out->path, &error);

  if (sentence != NULL)
    g_task_return_pointer (task, sentence, g_free);
  else
    g_task_return_error (task, error);
}

static void
on_written (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = g_task_propagate_pointer (G_TASK (result), &error);

  tell (data, sentence, error);
}

/* ---- on the catalogue's ---- */

static gpointer
run_read (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Out *out = data;

  return out->kind->read (catalogue, out->wish, out->path, error);
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer data)
{
  Out *out = data;
  g_autoptr (GError) error = NULL;
  gpointer read = sw_store_finish (out->store, result, &error);
  g_autoptr (GTask) task = NULL;

  if (read == NULL || out->kind->write == NULL)
    {
      g_autofree char *sentence = read;
      tell (out, sentence, error);
      return;
    }
  out->what = read;
  task = g_task_new (NULL, NULL, on_written, out);
  g_task_set_task_data (task, out, NULL);
  g_task_run_in_thread (task, run_write);
}

/* ---- asking ---- */

typedef struct
{
  char *suffix;
  SwFileOutChosen chosen;
  gpointer data;
} Ask;

static void
on_response (GtkNativeDialog *dialog, int response, Ask *ask)
{
  char *path = response == GTK_RESPONSE_ACCEPT
                   ? gtk_file_chooser_get_filename (GTK_FILE_CHOOSER (dialog))
                   : NULL;

  sw_native_dialog_done (dialog);
  if (path != NULL && !g_str_has_suffix (path, ask->suffix))
    {
      char *whole = g_strconcat (path, ask->suffix, NULL);
      g_free (path);
      path = whole;
    }
  ask->chosen (path, ask->data);
  g_free (ask->suffix);
  g_free (ask);
}

void
sw_file_out_ask_path (GtkWindow *parent, const char *title, const char *name, const char *suffix,
                      SwFileOutChosen chosen, gpointer data)
{
  Ask *ask = g_new0 (Ask, 1);
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new (
      title, parent, GTK_FILE_CHOOSER_ACTION_SAVE, _ ("_Save"), _ ("_Cancel"));

  ask->suffix = g_strdup (suffix);
  ask->chosen = chosen;
  ask->data = data;
  gtk_file_chooser_set_do_overwrite_confirmation (GTK_FILE_CHOOSER (dialog), *suffix != '\0');
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (dialog), name);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (on_response), ask);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

static void
on_chosen (char *path, gpointer data)
{
  Out *out = data;

  if (path == NULL)
    {
      out_free (out);
      return;
    }
  out->path = path;
  sw_store_read (out->store, SW_RANK_KEY, run_read, out, NULL,
                 out->kind->free_what != NULL ? out->kind->free_what : g_free, NULL, on_read, out);
}

void
sw_file_out_ask (GtkWindow *parent, SwStore *store, const SwFileOut *kind, gpointer wish,
                 GDestroyNotify free_wish)
{
  Out *out = g_new0 (Out, 1);

  *out = (Out){ .store = g_object_ref (store), .kind = kind, .wish = wish, .free_wish = free_wish };
  sw_file_out_ask_path (parent, _ (kind->title), _ (kind->name), kind->suffix, on_chosen, out);
}
