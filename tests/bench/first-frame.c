/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Preloaded into a GTK program: writes into the file named by SHEDWALK_FRAMES when its first frame
 * was painted, when the first frame was that showed a list with items, in microseconds of
 * CLOCK_MONOTONIC, and the microseconds of processor time of its main thread at the latter; then it
 * ends the program. A program that has no such list ends at its first
 * frame (SHEDWALK_FRAMES_LIST unset). */
#include <fcntl.h>
#include <gtk/gtk.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

static gboolean shown; /* the list is drawn in this frame */
static gint64 first_us;

static void
finish (gint64 list_us)
{
  char text[96];
  struct timespec cpu;
  int file = open (g_getenv ("SHEDWALK_FRAMES"), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  int n;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &cpu);
  n = g_snprintf (text, sizeof text,
                  "%" G_GINT64_FORMAT " %" G_GINT64_FORMAT " %" G_GINT64_FORMAT "\n", first_us,
                  list_us, cpu.tv_sec * G_USEC_PER_SEC + cpu.tv_nsec / 1000);

  _exit (file >= 0 && write (file, text, (size_t)n) == n ? 0 : 1);
}

/* The list of items is on the screen and has rows; a new set of rows is drawn in the frame that
 * follows it, which is this one. */
static void
look_for_list (GtkWidget *widget, gpointer data)
{
  AtkObject *accessible;

  if (shown || !gtk_widget_get_mapped (widget))
    return;
  if (GTK_IS_CONTAINER (widget))
    gtk_container_forall (GTK_CONTAINER (widget), look_for_list, NULL);
  if (g_strcmp0 (G_OBJECT_TYPE_NAME (widget), "SwRowList") != 0)
    return;
  accessible = gtk_widget_get_accessible (widget);
  shown = g_strcmp0 (atk_object_get_name (accessible), "Items") == 0
          && atk_object_get_n_accessible_children (accessible) > 0;
}

static gboolean
on_frame (GSignalInvocationHint *hint, guint n, const GValue *values, gpointer data)
{
  gint64 now = g_get_monotonic_time ();
  g_autoptr (GList) windows = NULL;

  if (first_us == 0)
    first_us = now;
  if (g_getenv ("SHEDWALK_FRAMES_LIST") == NULL)
    finish (now);
  windows = gtk_window_list_toplevels ();
  for (GList *l = windows; l != NULL; l = l->next)
    look_for_list (l->data, NULL);
  if (shown)
    finish (now);
  return TRUE;
}

/* The types are there once GTK is set up: asked for again at each turn until then. */
static int
watching_poll (GPollFD *fds, guint n, int timeout)
{
  static gboolean hooked;
  GType clock = g_type_from_name ("GdkFrameClock");

  if (!hooked && clock != 0 && g_type_class_peek (clock) != NULL)
    {
      hooked = TRUE;
      g_signal_add_emission_hook (g_signal_lookup ("after-paint", clock), 0, on_frame, NULL, NULL);
    }
  return g_poll (fds, n, timeout);
}

__attribute__ ((constructor)) static void
begin (void)
{
  if (g_getenv ("SHEDWALK_FRAMES") == NULL)
    return;
  unsetenv ("LD_PRELOAD"); /* a helper process is not watched */
  g_main_context_set_poll_func (NULL, watching_poll);
}
