/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The least GTK application: one window with a header bar and nothing in it. What Shedwalk's start
 * is measured against. */
#include <gtk/gtk.h>

static void
on_activate (GtkApplication *app)
{
  GtkWidget *window = gtk_application_window_new (app);
  GtkWidget *header = gtk_header_bar_new ();

  gtk_header_bar_set_show_close_button (GTK_HEADER_BAR (header), TRUE);
  gtk_window_set_titlebar (GTK_WINDOW (window), header);
  gtk_window_set_default_size (GTK_WINDOW (window), 1180, 760);
  gtk_widget_show_all (window);
}

int
main (int argc, char **argv)
{
  g_autoptr (GtkApplication) app
      = gtk_application_new ("org.shedwalk.BareWindow", G_APPLICATION_DEFAULT_FLAGS);

  g_signal_connect (app, "activate", G_CALLBACK (on_activate), NULL);
  return g_application_run (G_APPLICATION (app), argc, argv);
}
