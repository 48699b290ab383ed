"""gunicorn for a shop: threads, so that a slow phone holds one, not the whole site."""

bind = "127.0.0.1:8000"
worker_class = "gthread"
workers = 2
threads = 4
timeout = 60
graceful_timeout = 15
max_requests = 2000
max_requests_jitter = 200
accesslog = None
