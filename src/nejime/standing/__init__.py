"""Whether a piece stands: what stems weigh, how they bend, where the weight comes to lie."""
