"""What a remedy must not leave unsaid where the work itself can hurt."""

PYROTECHNIC_CAUTION = "Expired pyrotechnics are not for testing or signalling drills: keep them apart until landed."
RELEASE_CAUTION = "Release gear and launching appliances: only by those certified for them, by the maker's manual."
CO2_CAUTION = (
    "CO2: nobody enters the protected space or works on the bottles but those authorised, with the release isolated."
)
