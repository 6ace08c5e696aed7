app_name = "handouts"
urlpatterns: list = []
