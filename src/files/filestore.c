/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "files/filestore.h"

#include <pthread.h>
#include <sys/stat.h>

#include "base/error.h"
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
  ITEM_READ,    /* value is set */
  ITEM_FAILED,  /* message is set */
} ItemState;

typedef struct {
  const LwStoredKind *kind;
  char *path;
  double unit_mm;
  ItemState state;
  FileStamp stamp; /* of the file as it was read */
  gpointer value;
  char *message;
  bool asked_for;
} Item;

/* pthread, not GMutex: a thread checker understands it. */
struct _LwFileStore {
  const LwStoredKind *kind;
  pthread_mutex_t lock;
  pthread_cond_t read;
  GHashTable *items; /* "unit path" → Item */
};

static void
item_reset (Item *item)
{
  if (item->state == ITEM_READ)
    item->kind->free (item->value);
  g_clear_pointer (&item->message, g_free);
  item->value = NULL;
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

LwFileStore *
lw_file_store_new (const LwStoredKind *kind)
{
  LwFileStore *store = g_new0 (LwFileStore, 1);

  store->kind = kind;
  pthread_mutex_init (&store->lock, NULL);
  pthread_cond_init (&store->read, NULL);
  store->items = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, item_free);
  return store;
}

void
lw_file_store_free (LwFileStore *store)
{
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
find_item (LwFileStore *store, const char *path, double unit_mm)
{
  char unit[LW_NUMBER_SIZE];
  g_autofree char *key =
      g_strconcat (lw_number_to_text (unit_mm, unit), " ", path, (const char *)NULL);
  Item *item = (Item *)g_hash_table_lookup (store->items, key);

  if (item == NULL) {
    item = g_new0 (Item, 1);
    item->kind = store->kind;
    item->path = g_strdup (path);
    item->unit_mm = unit_mm;
    g_hash_table_insert (store->items, g_steal_pointer (&key), item);
  }
  item->asked_for = true;
  return item;
}

/* Called with the lock held; lets go of it while reading, so that other files can be asked for. The
 * stamp is taken before the first byte is read: a file changed meanwhile is noticed later. */
static void
read_item (LwFileStore *store, Item *item, LwProgress *progress)
{
  g_autoptr (GError) error = NULL;
  FileStamp stamp = stamp_file (item->path);
  gpointer value;

  item->state = ITEM_READING;
  pthread_mutex_unlock (&store->lock);
  value = store->kind->load (item->path, item->unit_mm, progress, &error);
  pthread_mutex_lock (&store->lock);

  if (value != NULL) {
    item->value = value;
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
hand_out (const Item *item, LwStoredTake take, gpointer data)
{
  switch (item->state) {
  case ITEM_UNREAD:
  case ITEM_READING:
    take (LW_STORED_LOADING, NULL, NULL, data);
    break;
  case ITEM_FAILED:
    take (LW_STORED_UNREADABLE, NULL, item->message, data);
    break;
  case ITEM_READ:
    take (LW_STORED_READY, item->value, NULL, data);
    break;
  }
}

void
lw_file_store_get (LwFileStore *store, const char *path, double unit_mm, bool wait,
                   LwProgress *progress, LwStoredTake take, gpointer data)
{
  FileStamp now = stamp_file (path);
  Item *item;

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
    take (LW_STORED_MISSING, NULL, NULL, data);
  } else {
    if (wait && item->state == ITEM_UNREAD)
      read_item (store, item, progress);
    hand_out (item, take, data);
  }
  pthread_mutex_unlock (&store->lock);
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
lw_file_store_trim (LwFileStore *store)
{
  pthread_mutex_lock (&store->lock);
  g_hash_table_foreach_remove (store->items, is_idle, NULL);
  pthread_mutex_unlock (&store->lock);
}
