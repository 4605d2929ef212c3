/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/meshstore.h"

#include <glib/gi18n.h>
#include <pthread.h>
#include <string.h>
#include <sys/stat.h>

#include "base/text.h"

/* What tells one state of a file from another without reading it. */
typedef struct {
  bool exists;
  dev_t device;
  ino_t inode;
  off_t size;
  struct timespec changed;
} FileStamp;

typedef enum {
  ITEM_UNREAD,
  ITEM_READING, /* some thread is at it */
  ITEM_READ,    /* file is set */
  ITEM_FAILED,  /* message is set */
} ItemState;

typedef struct {
  char *path;
  double unit_mm;
  ItemState state;
  FileStamp stamp; /* of the file as it was read */
  LwMeshFile file;
  char *message;
  bool asked_for;
} Item;

/* pthread, not GMutex: a thread checker understands it. */
struct _LwMeshStore {
  int ref_count;
  pthread_mutex_t lock;
  pthread_cond_t read;
  GHashTable *items; /* "unit path" → Item */
};

static void
item_reset (Item *item)
{
  if (item->state == ITEM_READ)
    lw_mesh_file_clear (&item->file);
  g_clear_pointer (&item->message, g_free);
  item->state = ITEM_UNREAD;
}

static void
item_free (gpointer data)
{
  Item *item = (Item *)data;

  item_reset (item);
  g_free (item->path);
  g_free (item);
}

LwMeshStore *
lw_mesh_store_new (void)
{
  LwMeshStore *store = g_new0 (LwMeshStore, 1);

  store->ref_count = 1;
  pthread_mutex_init (&store->lock, NULL);
  pthread_cond_init (&store->read, NULL);
  store->items = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, item_free);
  return store;
}

LwMeshStore *
lw_mesh_store_ref (LwMeshStore *store)
{
  g_atomic_int_inc (&store->ref_count);
  return store;
}

void
lw_mesh_store_unref (LwMeshStore *store)
{
  if (!g_atomic_int_dec_and_test (&store->ref_count))
    return;
  g_hash_table_unref (store->items);
  pthread_cond_destroy (&store->read);
  pthread_mutex_destroy (&store->lock);
  g_free (store);
}

static FileStamp
stamp_file (const char *path)
{
  struct stat info;

  if (stat (path, &info) != 0)
    return (FileStamp){ 0 };
  return (FileStamp){ true, info.st_dev, info.st_ino, info.st_size, info.st_mtim };
}

static bool
stamp_equals (const FileStamp *a, const FileStamp *b)
{
  return a->exists == b->exists && a->device == b->device && a->inode == b->inode
         && a->size == b->size && a->changed.tv_sec == b->changed.tv_sec
         && a->changed.tv_nsec == b->changed.tv_nsec;
}

static Item *
find_item (LwMeshStore *store, const char *path, double unit_mm)
{
  char unit[LW_NUMBER_SIZE];
  g_autofree char *key =
      g_strconcat (lw_number_to_text (unit_mm, unit), " ", path, (const char *)NULL);
  Item *item = (Item *)g_hash_table_lookup (store->items, key);

  if (item == NULL) {
    item = g_new0 (Item, 1);
    item->path = g_strdup (path);
    item->unit_mm = unit_mm;
    g_hash_table_insert (store->items, g_steal_pointer (&key), item);
  }
  item->asked_for = true;
  return item;
}

/* Called with the lock held; lets go of it while reading, so that other meshes can be asked for.
 * The stamp is taken before the first byte is read: a file changed meanwhile is noticed later. */
static void
read_item (LwMeshStore *store, Item *item, LwProgress *progress)
{
  g_autoptr (GError) error = NULL;
  FileStamp stamp = stamp_file (item->path);
  LwMeshFile file = { 0 };
  bool read;

  item->state = ITEM_READING;
  pthread_mutex_unlock (&store->lock);
  read = lw_mesh_file_load (&file, item->path, item->unit_mm, progress, &error);
  pthread_mutex_lock (&store->lock);

  if (read) {
    item->file = file;
    item->state = ITEM_READ;
  } else if (g_error_matches (error, LW_ERROR, LW_ERROR_CANCELLED)) {
    item->state = ITEM_UNREAD;
  } else {
    item->message = g_strdup (error->message);
    item->state = ITEM_FAILED;
  }
  item->stamp = stamp;
  pthread_cond_broadcast (&store->read);
}

static void
fill_entry (LwMeshEntry *entry, const Item *item, const char *sha256)
{
  switch (item->state) {
  case ITEM_UNREAD:
  case ITEM_READING:
    entry->state = LW_MESH_LOADING;
    entry->message = g_strdup (_ ("The mesh is not read yet."));
    break;
  case ITEM_FAILED:
    entry->state = LW_MESH_UNREADABLE;
    entry->message = g_strdup (item->message);
    break;
  case ITEM_READ:
    entry->state = LW_MESH_READY;
    entry->mesh = lw_mesh_ref (item->file.mesh);
    memcpy (entry->sha256, item->file.sha256, sizeof entry->sha256);
    entry->warnings = g_strdupv (item->file.warnings);
    if (sha256 != NULL && g_ascii_strcasecmp (sha256, item->file.sha256) != 0) {
      entry->state = LW_MESH_ALTERED;
      entry->message = g_strdup_printf (
          _ ("%s is not the file this job was made with: its SHA-256 differs."), item->path);
    }
    break;
  }
}

void
lw_mesh_store_get (LwMeshStore *store, const char *path, double unit_mm, const char *sha256,
                   bool wait, LwProgress *progress, LwMeshEntry *entry)
{
  FileStamp now = stamp_file (path);
  Item *item;

  *entry = (LwMeshEntry){ 0 };
  pthread_mutex_lock (&store->lock);
  while ((item = find_item (store, path, unit_mm))->state == ITEM_READING && wait)
    pthread_cond_wait (&store->read, &store->lock);
  if (item->state != ITEM_READING && item->state != ITEM_UNREAD
      && !stamp_equals (&item->stamp, &now)) {
    now = stamp_file (path);
    if (!stamp_equals (&item->stamp, &now))
      item_reset (item);
  }
  if (!now.exists && item->state != ITEM_READING) {
    entry->state = LW_MESH_MISSING;
    entry->message = g_strdup_printf (_ ("There is no file %s."), path);
  } else {
    if (wait && item->state == ITEM_UNREAD)
      read_item (store, item, progress);
    fill_entry (entry, item, sha256);
  }
  pthread_mutex_unlock (&store->lock);
  if (entry->warnings == NULL)
    entry->warnings = g_new0 (char *, 1);
}

void
lw_mesh_entry_clear (LwMeshEntry *entry)
{
  g_clear_pointer (&entry->mesh, lw_mesh_unref);
  g_clear_pointer (&entry->message, g_free);
  g_clear_pointer (&entry->warnings, g_strfreev);
}

void
lw_mesh_entry_copy (LwMeshEntry *entry, const LwMeshEntry *from)
{
  *entry = *from;
  if (from->mesh != NULL)
    entry->mesh = lw_mesh_ref (from->mesh);
  entry->message = g_strdup (from->message);
  entry->warnings = from->warnings != NULL ? g_strdupv (from->warnings) : g_new0 (char *, 1);
}

static gboolean
is_idle (gpointer key, gpointer value, gpointer data)
{
  Item *item = (Item *)value;
  bool idle = !item->asked_for && item->state != ITEM_READING;

  item->asked_for = false;
  return idle;
}

void
lw_mesh_store_trim (LwMeshStore *store)
{
  pthread_mutex_lock (&store->lock);
  g_hash_table_foreach_remove (store->items, is_idle, NULL);
  pthread_mutex_unlock (&store->lock);
}
