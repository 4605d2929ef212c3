/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "session/memo.h"

#include <pthread.h>
#include <string.h>

#include "base/sha256.h"

typedef struct {
  char key[65];
  gpointer result;
  GList link; /* in the order of use; data is the item */
} Item;

struct _LwMemo {
  pthread_mutex_t lock;
  GHashTable *items; /* key → Item, borrowed from used */
  GQueue used;       /* last asked for first */
  gpointer (*ref) (gpointer result);
  void (*unref) (gpointer result);
};

LwMemo *
lw_memo_new (gpointer (*ref) (gpointer result), void (*unref) (gpointer result))
{
  LwMemo *memo = g_new0 (LwMemo, 1);

  pthread_mutex_init (&memo->lock, NULL);
  memo->items = g_hash_table_new (g_str_hash, g_str_equal);
  g_queue_init (&memo->used);
  memo->ref = ref;
  memo->unref = unref;
  return memo;
}

/* Takes the item out; its result is the caller's. */
static gpointer
take_item (LwMemo *memo, Item *item)
{
  gpointer result = item->result;

  g_hash_table_remove (memo->items, item->key);
  g_queue_unlink (&memo->used, &item->link);
  g_free (item);
  return result;
}

void
lw_memo_free (LwMemo *memo)
{
  while (memo->used.tail != NULL)
    memo->unref (take_item (memo, (Item *)memo->used.tail->data));
  g_hash_table_unref (memo->items);
  pthread_mutex_destroy (&memo->lock);
  g_free (memo);
}

void
lw_memo_key (const char *const *identities, int n, char key[65])
{
  g_autoptr (GByteArray) all = g_byte_array_new ();

  for (int i = 0; i < n; i++) {
    guint64 length = identities[i] != NULL ? strlen (identities[i]) : G_MAXUINT64;

    g_byte_array_append (all, (const guint8 *)&length, sizeof length);
    if (identities[i] != NULL)
      g_byte_array_append (all, (const guint8 *)identities[i], (guint)length);
  }
  lw_sha256 (all->data, all->len, key);
}

gpointer
lw_memo_lookup (LwMemo *memo, const char *key)
{
  gpointer result = NULL;
  Item *item;

  pthread_mutex_lock (&memo->lock);
  item = (Item *)g_hash_table_lookup (memo->items, key);
  if (item != NULL) {
    g_queue_unlink (&memo->used, &item->link);
    g_queue_push_head_link (&memo->used, &item->link);
    result = memo->ref (item->result);
  }
  pthread_mutex_unlock (&memo->lock);
  return result;
}

void
lw_memo_remember (LwMemo *memo, const char *key, gpointer result)
{
  Item *item = g_new0 (Item, 1);
  gpointer same_key = NULL, oldest = NULL;
  Item *earlier;

  g_strlcpy (item->key, key, sizeof item->key);
  item->result = memo->ref (result);
  item->link.data = item;

  pthread_mutex_lock (&memo->lock);
  earlier = (Item *)g_hash_table_lookup (memo->items, key);
  if (earlier != NULL)
    same_key = take_item (memo, earlier);
  g_hash_table_insert (memo->items, item->key, item);
  g_queue_push_head_link (&memo->used, &item->link);
  if (memo->used.length > LW_MEMO_LIMIT)
    oldest = take_item (memo, (Item *)memo->used.tail->data);
  pthread_mutex_unlock (&memo->lock);

  if (same_key != NULL)
    memo->unref (same_key);
  if (oldest != NULL)
    memo->unref (oldest);
}

int
lw_memo_get_count (LwMemo *memo)
{
  int count;

  pthread_mutex_lock (&memo->lock);
  count = (int)memo->used.length;
  pthread_mutex_unlock (&memo->lock);
  return count;
}
