from .http.serve import serve as serve
