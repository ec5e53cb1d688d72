"""The signed passport: from a view to a payload, canonical bytes and a signature, and back to what a signature covers.

Sees views, never records. It alone knows cryptography and rfc8785; nothing here asks any network.
"""
