"""davitbook: the ship's record of life-saving and fire-fighting appliances as one workbook that audits itself."""

__version__ = "0.1.0"
