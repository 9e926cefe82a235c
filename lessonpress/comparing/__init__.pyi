from .drafting import Draft as Draft
from .drafting import Heading as Heading
from .drafting import drafted as drafted
from .lacking import Lacking as Lacking
from .lacking import lacking_on as lacking_on
from .pairings import Pairing as Pairing
from .pairings import pairings_of as pairings_of
