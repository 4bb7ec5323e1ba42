/* Folders that others may have made or may change meanwhile: which may be replaced, and how one goes without anything outside
 * of it being touched. No link is ever followed. Tests: tests/unit/test_directory.c, tests/cli/hostile.sh.           */
#ifndef BRV_CLI_REPORT_FOLDER_H
#define BRV_CLI_REPORT_FOLDER_H

#include <fcntl.h>
#include <stdbool.h>

enum { BRV_FOLDER_NAME_SIZE = 256, BRV_FOLDER_OPEN = O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC };

/* Removes a folder with all in it, down to 32 folders, or one file; a link itself and not what it leads to. Walking asks for
 * memory; where there is none, files go at least, and the folder when they were all that it held. 0 or -1.           */
int brv_folder_remove(const char *path);

/* A folder that may be replaced: empty, or one with a mark (report/directory.h) that this program wrote and with nothing that
 * it never writes: 1. Otherwise 0, and `other` names what speaks against it, "" where it is the want of a mark. -1: it, or the
 * file in it that `other` names, cannot be looked at (errno says why).                                                */
int brv_folder_is_result(const char *path, char other[BRV_FOLDER_NAME_SIZE]);

/* Does a folder hold nothing but files that a run leaves in the folder it writes aside, whole or not: 1, or 0. -1: it cannot be
 * looked at (errno says why).                                                                                         */
int brv_folder_is_leftover(const char *path);

/* Does the folder belong to who runs this? Where several people may write, as in /tmp, anybody may make folders of any name:
 * only one's own are taken for what earlier runs left behind.                                                        */
bool brv_folder_is_own(const char *path);

#endif
