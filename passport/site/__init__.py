"""The pages of the site: views and templates in, paths and bytes out.

It knows nothing of records and nothing of MkDocs.
"""
