from .diagrams import Diagram as Diagram
from .diagrams import diagrams_of as diagrams_of
from .feeds import feed_files as feed_files
from .ledger import ledger_csv as ledger_csv
from .ledger import ledger_files as ledger_files
from .ledger import ledger_json as ledger_json
from .sitemap import sitemap_files as sitemap_files
