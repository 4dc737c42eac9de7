"""The page: turns requests into verbs and jobs into HTML. No arithmetic.

    app.py       the whole page: what guards it, what answers
    guard.py     what a request must be before anything answers it
    desk.py      what every answer is made with: the shelf, worked-out jobs, templates, words
    home.py      the jobs and new ones    keep.py   job file, undo, history
    enter.py     Measure          see.py   See          take.py   Take away; making.py: packets, one at a time
    serve.py     the server itself
"""
