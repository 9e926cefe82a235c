from .atomic import folder_to_disk as folder_to_disk
from .atomic import remove_unfinished as remove_unfinished
from .atomic import tree_to_disk as tree_to_disk
from .atomic import write_atomically as write_atomically
from .atomic import write_new as write_new
from .exchange import exchange_folders as exchange_folders
from .lock import LockedError as LockedError
from .lock import hold_lock as hold_lock
