"""What every output says, whatever it is about."""

CAUTIONS = (
    "This is an aid to decide, not an approval. Local aviation rules and licensed practice come first.",
    "Nobody stands in the plane of a turning propeller. Proof tests run behind a barrier, by remote control.",
    "A passed check does not excuse an inspection.",
    "Not checked: fretting, corrosion and wear; in the lives blows of folding blades on their stops. "
    "How tight a pivot may be, and what one lost screw does, is told with the joint, apart from the checks.",
)

INVENTED = "The data of this sheet is invented."


def cautions(*, invented: bool) -> list[str]:
    """Return the cautions that every output carries, after the remark that its data is made up, if it is."""
    return [*([INVENTED] if invented else []), *CAUTIONS]
