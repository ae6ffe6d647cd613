"""The signed report: pages, the technician's key, the signature, and its verification.

Here belongs what ends up in the PDF file or is read back from it; not what a verdict means, and not
where a file is kept. Import the modules where they are needed: the libraries behind them take
longer to load than the app takes to start.
"""
