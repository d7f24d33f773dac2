/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a power cut would take: a log of all that was written, made, renamed or removed and not yet
 * flushed. A file's bytes are safe once the file is flushed, a name once its folder is; nothing
 * else is (POSIX.1-2017, fsync, asks for no more, though many file systems give it). Every function
 * is told of a call just before it is made, whether it then succeeds or not. One caller at a time.
 */
#pragma once

#include <sys/types.h>

/* 'stash' is a folder on the same file system where removed files are kept until then. */
void power_start (const char *stash);

/* Bytes n at 'at' of an open file, -1: where it stands (at its end if it appends). */
void power_write (int fd, off_t at, size_t n);
void power_truncate (int fd, off_t size);
/* A file that is opened with these flags, and may be made or emptied by that. */
void power_open (const char *path, int flags);
void power_mkdir (const char *path);
void power_rename (const char *from, const char *to);
void power_remove (const char *path);

/* This file or folder is flushed; everything is. */
void power_flush (int fd);
void power_flush_all (void);

typedef enum
{
  POWER_ALL,  /* all that was not flushed is gone */
  POWER_TORN, /* names are there up to some moment; of the bytes some sectors are there */
} PowerLoss;

/* Puts the disk into the state after a power cut. The process must not go on. */
void power_cut (PowerLoss loss, unsigned int seed);
